#include "workbench/detail/steps.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "shop/names.h"

namespace film::workbench {

std::vector<shop::InstalledPiece> pieces_on(const std::vector<shop::InstalledPiece>& laid) {
  std::set<std::int64_t> off;
  for (const shop::InstalledPiece& piece : laid) off.insert(piece.replaces);
  std::vector<shop::InstalledPiece> on;
  std::copy_if(laid.begin(), laid.end(), std::back_inserter(on),
               [&off](const shop::InstalledPiece& piece) { return off.count(piece.number) == 0; });
  return on;
}

shop::StepsDone steps_done(store::Book& book, const shop::Job& job) {
  const auto laid = book.installed_of_job(job.id);
  std::set<std::string> covered;
  std::string last;
  for (const shop::InstalledPiece& piece : laid) {
    covered.insert(piece.panel);
    last = std::max(last, piece.at);
  }
  shop::StepsDone done;
  done.pieces = std::all_of(job.scope.begin(), job.scope.end(), [&](const shop::ScopeItem& item) {
    return covered.count(item.panel) != 0;
  });
  // Moments of RFC 3339 in UTC sort as text.
  if (const auto all = book.inspections(job.id); !all.empty()) {
    done.inspection = shop::passed(all.back()) && all.back().at >= last;
  }
  if (const auto all = book.hand_overs(job.id); !all.empty()) {
    done.hand_over = all.back().at >= last;
  }
  return done;
}

Result<shop::Job> record_move(store::Book& book, const shop::Job& job, shop::JobState to,
                              const std::string& reason, const std::string& who,
                              const std::string& at) {
  const shop::StepsDone done = steps_done(book, job);
  auto after = shop::move(job, to, reason, done);
  if (!after) return after;
  if (auto updated = book.update(*after); !updated) return Failure(updated.error());
  const auto skipped = shop::skipped_step(to, done);
  book.append(job.id, {at, who, format("moved to {}", shop::name_of(to)),
                       skipped.empty() ? reason : format("without {}: {}", skipped, reason)});
  return after;
}

}  // namespace film::workbench
