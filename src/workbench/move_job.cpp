#include "workbench/move_job.h"

#include <algorithm>
#include <map>

#include "base/text.h"
#include "store/store.h"
#include "workbench/book_run.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/steps.h"
#include "workbench/job_glass.h"

namespace film::workbench {
namespace {

/// The rolls that the layouts lie on must hold them. Film is booked when it is cut.
Result<void> check_stock(store::Book& book, const std::string& job) {
  std::map<std::string, Mm> need;
  for (const auto& layout : book.layouts(job))
    need[layout.roll] = need[layout.roll] + layout.length;
  for (const auto& [id, length] : need) {
    const auto roll = book.roll(id);
    if (roll && roll->remaining >= length) continue;
    return fail(ErrorCode::conflict,
                format("{:.0f} mm of film are needed and {:.0f} mm are left", length.value,
                       roll ? roll->remaining.value : 0.0),
                "roll " + id, "Lay the job out on another roll.");
  }
  return {};
}

Result<void> check_not_cutting(store::Book& book, const std::string& job) {
  for (const auto& run : book.runs(job)) {
    if (run.over) continue;
    return fail(ErrorCode::conflict, "run " + run.id + " is not over", "job " + job,
                "Cut it to its end or give it up first.");
  }
  return {};
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
    const auto moves = shop::moves_of(*job);
    if (std::find(moves.begin(), moves.end(), order.to) != moves.end()) {
      if (auto sound = check_cuttable(workbench, *job); !sound) return Failure(sound.error());
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
    if (order.to == shop::JobState::released) {
      if (auto enough = check_stock(book, order.job); !enough) return Failure(enough.error());
    }
    if (order.to != shop::JobState::installing) {
      if (auto idle = check_not_cutting(book, order.job); !idle) return Failure(idle.error());
    }
    auto moved = record_move(book, *before, order.to, order.reason, who, at);
    if (moved && order.to == shop::JobState::scoped) book.drop_work(order.job);
    return moved;
  });
}

}  // namespace film::workbench
