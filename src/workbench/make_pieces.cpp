#include "workbench/make_pieces.h"

#include <algorithm>
#include <atomic>
#include <map>
#include <mutex>

#include "base/text.h"
#include "store/store.h"
#include "workbench/detail/cut_piece.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/study.h"

namespace film::workbench {
namespace {

surface::Method as_prepared() {
  surface::Method method;
  method.reasons = {"its pieces were prepared by hand"};
  return method;
}

struct Work {
  std::map<std::string, StudyTerms> terms;  // by film
  Mm bulk_trim;
  Mm side_margins;
};

Result<Work> prepare(Workbench& workbench, const shop::Job& job) {
  Work work;
  for (const std::string& film : shop::films_of(job)) {
    auto terms = study_terms(workbench, job.vehicle, job.vehicle_version, film);
    if (!terms) return Failure(terms.error());
    work.terms.emplace(film, std::move(*terms));
  }
  return workbench.store().look([&work](store::Book& book) {
    work.bulk_trim = book.settings().value_or(shop::Settings{}).bulk_trim;
    const cutting::Margins margins = knife_margins(book);
    work.side_margins = margins.low + margins.high;
    return std::move(work);
  });
}

}  // namespace

Result<JobPieces> make_pieces(Workbench& workbench, const std::string& job_id,
                              const Context& context) {
  const auto job =
      workbench.store().look([&](store::Book& book) { return find_job(book, job_id); });
  if (!job) return Failure(job.error());
  const auto work = prepare(workbench, *job);
  if (!work) return Failure(work.error());

  JobPieces made;
  std::mutex mutex;
  std::atomic<std::size_t> done{0};
  bool cancelled = false;
  // Studies run one panel a thread; inside one there are no threads to share.
  const Context alone([&context] { return context.stopped(); });
  context.executor().run(job->scope.size(), [&](std::size_t i) {
    const shop::ScopeItem& item = job->scope[i];
    const StudyTerms& terms = work->terms.at(item.film);
    const shop::Panel* panel = shop::find_panel(*terms.vehicle, item.panel);
    const bool prepared = panel != nullptr && !panel->pieces.empty();
    const Result<std::shared_ptr<const Study>> studied =
        prepared ? Result<std::shared_ptr<const Study>>()
                 : study(workbench, terms, item.panel, alone);
    const std::lock_guard lock(mutex);
    if (prepared) {
      // Laid as they are, whatever the surface would advise.
      for (const pattern::Piece& piece : panel->pieces) {
        made.pieces.push_back({item.panel, item.film, as_prepared(), piece});
      }
    } else if (studied) {
      const Study& s = **studied;
      made.pieces.push_back({item.panel, item.film, s.laying.method,
                             piece_to_cut(s, work->bulk_trim, work->side_margins)});
    } else if (studied.error().code == ErrorCode::cancelled) {
      cancelled = true;
    } else {
      made.failures.push_back({item.panel, studied.error()});
    }
    context.report("studying panels",
                   static_cast<double>(++done) / static_cast<double>(job->scope.size()));
  });
  if (cancelled) {
    return fail(ErrorCode::cancelled, "stopped before all pieces were made", "job " + job_id, "");
  }
  std::sort(made.pieces.begin(), made.pieces.end(), [](const JobPiece& a, const JobPiece& b) {
    return std::tie(a.piece.zone, a.piece.id) < std::tie(b.piece.zone, b.piece.id);
  });
  std::sort(made.failures.begin(), made.failures.end(),
            [](const PieceFailure& a, const PieceFailure& b) { return a.panel < b.panel; });
  return made;
}

}  // namespace film::workbench
