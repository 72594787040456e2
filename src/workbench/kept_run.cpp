#include "workbench/kept_run.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "cutting/program.h"

namespace film::workbench {
namespace {

using spool::ContourState;
using spool::Entry;
using spool::Mark;

Result<void> note(KeptRun& kept, const Entry& entry) {
  spool::Run next = kept.run;
  if (auto sound = next.apply(entry); !sound) return sound;
  if (auto done = kept.journal->note(entry); !done) return done;
  kept.run = std::move(next);
  return {};
}

/// What is left goes into a file that a person carries to the machine.
Result<void> hand_over(KeptRun& kept, const spool::Control& control) {
  std::vector<Entry> entries{{Mark::opened, 0, "by a file"}};
  for (const std::size_t contour : kept.run.in(ContourState::waiting)) {
    entries.push_back({Mark::begun, contour, {}});
  }
  entries.push_back({Mark::all_sent, 0, {}});
  for (const Entry& entry : entries) {
    if (auto done = note(kept, entry); !done) return done;
  }
  if (control.heard) control.heard(kept.run);
  return {};
}

template <class Counts>
Mm far_end_where(const cutting::CutPlan& plan, Counts counts) {
  double far = 0;
  const auto reach = [&far](const Polyline& line) {
    for (const Vec2 p : line) far = std::max(far, p.x);
  };
  for (std::size_t k = 0; k < plan.contours.size(); ++k) {
    if (counts(k)) reach(plan.contours[k].drawn);
  }
  if (far > 0) reach(plan.alignment.axis);
  return Mm{far};
}

}  // namespace

Result<spool::MachineLock> lock_for(const cutting::Link& link, const std::string& run) {
  return spool::MachineLock::take(link.address.empty() ? "run:" + run : link.address);
}

Result<void> mend_run(KeptRun& kept) {
  if (kept.run.state() != spool::RunState::sending) return {};
  return note(kept, {Mark::interrupted, 0, "the program ended while it was sending"});
}

RunProgress progress_of(const cutting::CutPlan& plan, const spool::Run& run) {
  RunProgress progress;
  progress.state = run.state();
  progress.reason = run.reason();
  progress.contours = plan.contours.size();
  progress.contours_cut = run.count(ContourState::cut);
  progress.doubtful = run.in(ContourState::doubtful);
  std::vector<char> unfinished(plan.pieces.size(), 0);
  std::vector<char> asked(plan.pieces.size(), 0);
  for (std::size_t k = 0; k < plan.contours.size(); ++k) {
    const cutting::Contour& contour = plan.contours[k];
    progress.mm += contour.drawn_length;
    if (contour.kind != cutting::ContourKind::aid) asked[contour.shape] = 1;
    if (run.contours()[k] == ContourState::cut) {
      progress.mm_cut += contour.drawn_length;
    } else {
      unfinished[contour.shape] = 1;
    }
  }
  for (std::size_t i = 0; i < plan.pieces.size(); ++i) {
    if (asked[i] == 0) continue;
    ++progress.pieces;
    if (unfinished[i] == 0) {
      ++progress.pieces_cut;
    } else {
      progress.unfinished.push_back(plan.pieces[i]);
    }
  }
  return progress;
}

Mm far_end(const cutting::CutPlan& plan, const spool::Run& run, bool doubtful_too) {
  return far_end_where(plan, [&](std::size_t k) {
    const ContourState state = run.contours()[k];
    return state == ContourState::cut || (doubtful_too && state == ContourState::doubtful);
  });
}

Mm far_end(const cutting::CutPlan& plan) {
  return far_end_where(plan, [](std::size_t) { return true; });
}

Result<void> send_run(KeptRun& kept, const spool::Control& control) {
  const cutting::Link& link = kept.profile.link;
  // Before anything is opened: could the run go on at all?
  spool::Run trial = kept.run;
  if (auto sound = trial.apply({Mark::opened, 0, link.address}); !sound) {
    Error error = sound.error();
    error.where = kept.name;
    error.remedy = "Look at the film and say which of them are cut";
    return kept.run.over() ? sound : Result<void>(Failure(error));
  }
  if (link.address.empty()) return hand_over(kept, control);
  std::vector<bool> cut;
  for (const ContourState state : kept.run.contours()) cut.push_back(state == ContourState::cut);
  auto program = cutting::program_of(kept.plan, kept.profile, cut);
  if (!program) return Failure(program.error());
  auto line = spool::Line::open(link);
  if (!line) return Failure(line.error());
  spool::Sender sender(std::move(*program), link.address,
                       {link.answers, link.flow == cutting::Flow::asked, link.buffer_bytes,
                        link.patience.value, kept.profile.motion.cut_speed});
  return spool::send(sender, *line, *kept.journal, kept.run, control);
}

Result<void> settle_run(KeptRun& kept, const std::vector<Finding>& findings) {
  for (const Finding& finding : findings) {
    const Mark mark = finding.cut ? Mark::found_cut : Mark::found_uncut;
    if (auto done = note(kept, {mark, finding.contour, {}}); !done) return done;
  }
  return {};
}

Result<void> confirm_run(KeptRun& kept) {
  if (kept.run.state() != spool::RunState::unconfirmed) {
    return fail(ErrorCode::conflict, "not everything was sent yet", kept.name,
                "Resume the run, or give it up");
  }
  std::vector<Finding> findings;
  for (const std::size_t contour : kept.run.in(ContourState::doubtful)) {
    findings.push_back({contour, true});
  }
  if (auto settled = settle_run(kept, findings); !settled) return settled;
  return note(kept, {Mark::finished, 0, {}});
}

Result<void> give_up_run(KeptRun& kept, const std::string& reason) {
  if (reason.empty()) {
    return fail(ErrorCode::invalid_input, "a run is given up for a reason", kept.name, "Say why");
  }
  return note(kept, {Mark::given_up, 0, reason});
}

}  // namespace film::workbench
