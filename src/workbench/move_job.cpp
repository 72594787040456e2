#include "workbench/move_job.h"

#include "base/text.h"
#include "shop/names.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/job_glass.h"

namespace film::workbench {
namespace {

/// Books the film of every layout out of its roll; returns what was booked, in words.
Result<std::string> book_film(store::Book& book, const std::string& job, const std::string& at) {
  std::string taken;
  for (const auto& layout : book.layouts(job)) {
    if (auto done = book.take_film(layout.roll, job, layout.length, at); !done) {
      return Failure(done.error());
    }
    taken += format("{}{:.0f} mm of roll {}", taken.empty() ? "booked " : ", ", layout.length.value,
                    layout.roll);
  }
  return taken;
}

}  // namespace

Result<shop::Job> move_job(Workbench& workbench, const JobMove& order, const std::string& who) {
  if (order.to == shop::JobState::released) {
    const auto job =
        workbench.store().look([&](store::Book& book) { return find_job(book, order.job); });
    if (!job) return Failure(job.error());
    if (auto decided = check_decided(workbench, *job, ""); !decided) {
      return Failure(decided.error());
    }
  }
  const std::string at = now();
  return workbench.store().change([&](store::Book& book) -> Result<shop::Job> {
    const auto before = find_job(book, order.job);
    if (!before) return Failure(before.error());
    if (order.revision && *order.revision != before->revision) {
      return fail(ErrorCode::conflict, "the job has changed since this was decided",
                  "job " + order.job, "Look at the job as it is now, then decide again.");
    }
    auto after = shop::move(*before, order.to, order.reason);
    if (!after) return Failure(after.error());
    std::string detail = order.reason;
    if (order.to == shop::JobState::released) {
      const auto taken = book_film(book, order.job, at);
      if (!taken) return Failure(taken.error());
      detail += (detail.empty() ? "" : "; ") + *taken;
    }
    if (order.to == shop::JobState::scoped) book.drop_work(order.job);
    if (auto updated = book.update(*after); !updated) return Failure(updated.error());
    book.append(order.job,
                {at, who, format("moved to {}", shop::name_of(order.to)), std::move(detail)});
    return std::move(*after);
  });
}

}  // namespace film::workbench
