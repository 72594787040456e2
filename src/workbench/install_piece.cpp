#include "workbench/install_piece.h"

#include <algorithm>

#include "base/text.h"
#include "exchange/layout_json.h"
#include "shop/names.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/steps.h"

namespace film::workbench {
namespace {

using shop::JobState;

Result<std::string> film_on(const shop::Job& job, const std::string& panel) {
  for (const shop::ScopeItem& item : job.scope) {
    if (item.panel == panel) return item.film;
  }
  return fail(ErrorCode::not_found, "the job does not cover this panel",
              format("job {} panel {}", job.id, panel), "Choose a panel of the job's scope.");
}

/// The roll or offcut on which the panel's piece was laid out; empty when none was.
std::string source_of(store::Book& book, const std::string& job, const std::string& film,
                      const std::string& panel) {
  std::string only;
  for (const shop::KeptLayout& layout : book.layouts(job)) {
    if (layout.film != film) continue;
    const auto bytes = book.blob(layout.sheet);
    const auto sheet = bytes ? exchange::read_layout_sheet(*bytes) : Failure(bytes.error());
    if (!sheet) continue;
    const bool here =
        std::any_of(sheet->pieces.begin(), sheet->pieces.end(),
                    [&](const exchange::LaidPiece& laid) { return laid.item == panel; });
    if (here) return layout.roll;
    only = layout.roll;
  }
  return only;
}

/// Fills what the report leaves to the book.
Result<shop::InstalledPiece> piece_of(store::Book& book, const shop::Job& job,
                                      const PieceLaid& laid, const std::string& who) {
  const auto film = film_on(job, laid.panel);
  if (!film) return Failure(film.error());
  shop::InstalledPiece piece;
  piece.event = laid.event;
  piece.job = job.id;
  piece.panel = laid.panel;
  piece.piece = laid.piece.empty() ? laid.panel : laid.piece;
  piece.film = *film;
  piece.source = laid.source;
  piece.lot = laid.lot;
  piece.who = who;
  piece.at = laid.at.empty() ? now() : laid.at;
  piece.replaces = laid.replaces;
  piece.reason = laid.reason;
  if (piece.source.empty()) {
    piece.source = source_of(book, job.id, *film, piece.panel);
  }
  if (const auto roll = book.roll(piece.source); roll && piece.lot.empty()) piece.lot = roll->lot;
  const auto runs = book.runs(job.id);
  const auto run = std::find_if(runs.begin(), runs.end(), [&](const shop::CutRun& each) {
    return each.film == *film && each.roll == piece.source;
  });
  if (run != runs.end()) piece.run = run->id;
  if (auto sound = shop::check(piece); !sound) return Failure(sound.error());
  return piece;
}

Result<void> check_bare(const std::vector<shop::InstalledPiece>& laid,
                        const shop::InstalledPiece& piece) {
  for (const shop::InstalledPiece& on : pieces_on(laid)) {
    if (on.panel != piece.panel || on.piece != piece.piece || piece.replaces != 0) continue;
    return fail(ErrorCode::conflict,
                format("this piece was laid before, as {}", shop::number_text(on)),
                format("job {} panel {}", piece.job, piece.panel),
                "Say that it replaces that one, and why it came off.");
  }
  return {};
}

Result<void> check_state(const shop::Job& job, const shop::InstalledPiece& piece) {
  const bool open = job.state == JobState::released || job.state == JobState::installing ||
                    job.state == JobState::inspected;
  if (open || (job.state == JobState::handed_over && piece.replaces != 0)) return {};
  return fail(ErrorCode::conflict,
              format("no piece is laid on a job that is {}", shop::name_of(job.state)),
              "job " + job.id,
              job.state == JobState::handed_over ? "Name the piece that it replaces."
                                                 : "Release the job first.");
}

/// The report was taken down before, and its answer got lost on the way.
Result<shop::InstalledPiece> same_report(const shop::InstalledPiece& kept, const PieceLaid& again) {
  if (kept.job == again.job && kept.panel == again.panel && kept.replaces == again.replaces) {
    return kept;
  }
  return fail(ErrorCode::conflict, "this event was used for another piece", "event " + again.event,
              "Give each report an event of its own.");
}

/// Takes the job to installing when the piece means that.
Result<void> follow(store::Book& book, const shop::Job& job, const shop::InstalledPiece& piece) {
  std::string reason;
  if (job.state == JobState::inspected) {
    if (steps_done(book, job).inspection) return {};  // reported late, laid before
    reason = format("{} was laid after the inspection", shop::number_text(piece));
  } else if (job.state != JobState::released) {
    return {};
  }
  const auto moved = record_move(book, job, JobState::installing, reason, piece.who, now());
  return moved ? Result<void>() : Failure(moved.error());
}

}  // namespace

Result<shop::InstalledPiece> install_piece(Workbench& workbench, const PieceLaid& order,
                                           const std::string& who) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::InstalledPiece> {
    if (const auto kept = book.installed_by_event(order.event)) return same_report(*kept, order);
    const auto job = find_job(book, order.job);
    if (!job) return Failure(job.error());
    const auto piece = piece_of(book, *job, order, who);
    if (!piece) return piece;
    if (auto sound = check_state(*job, *piece); !sound) return Failure(sound.error());
    if (auto sound = check_bare(book.installed_of_job(job->id), *piece); !sound) {
      return Failure(sound.error());
    }
    auto added = book.add(*piece);
    if (!added) return added;
    book.append(job->id, {now(), who, piece->replaces == 0 ? "piece laid" : "piece replaced",
                          format("{}: {}, lot {}{}", shop::number_text(*added), added->piece,
                                 added->lot, added->reason.empty() ? "" : ", " + added->reason)});
    if (auto moved = follow(book, *job, *added); !moved) return Failure(moved.error());
    return added;
  });
}

}  // namespace film::workbench
