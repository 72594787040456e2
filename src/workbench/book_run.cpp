#include "workbench/book_run.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "cutting/program.h"
#include "exchange/cut_json.h"
#include "exchange/profile_json.h"
#include "layout/verify.h"
#include "shop/stock_ledger.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/lay_out_job.h"
#include "workbench/plan_job_cut.h"

namespace film::workbench {
namespace {

using spool::Mark;

Result<shop::CutRun> find_run(store::Book& book, const std::string& id) {
  if (auto run = book.run(id)) return std::move(*run);
  return fail(ErrorCode::not_found, "there is no such run", "run " + id, "Look at the job's runs.");
}

/// The run with its path, its profile and its marks, without a journal.
Result<KeptRun> read_kept(store::Book& book, const shop::CutRun& record) {
  const std::string where = "run " + record.id;
  const auto path = book.blob(record.plan);
  if (!path) return Failure(path.error());
  auto plan = exchange::read_cut_plan(*path, where);
  if (!plan) return Failure(plan.error());
  const auto settings = book.blob(record.profile);
  if (!settings) return Failure(settings.error());
  auto profile = exchange::read_profile(*settings, where);
  if (!profile) return Failure(profile.error());
  // A machine may be plugged in elsewhere the next day.
  if (const auto now = book.profile(record.machine)) profile->link = now->settings.link;
  KeptRun kept{
      record.id, std::move(*plan), std::move(*profile), spool::Run(record.contours), nullptr, {}};
  for (const shop::CutMark& mark : book.marks(record.id)) {
    const auto entry = spool::entry_from(mark.text);
    if (!entry) return Failure(entry.error());
    if (auto sound = kept.run.apply(*entry); !sound) return Failure(sound.error());
  }
  return kept;
}

/// Bare film past the last cut that goes with the job: none where the knife cuts the sheet off.
Mm bare_end(const cutting::MachineProfile& profile) {
  return profile.aids.sheet_end ? Mm{0} : profile.margins.trail;
}

/// Keeps the marks in the book, and the stock and the history in step with them.
class BookJournal final : public spool::Journal {
 public:
  BookJournal(Workbench& workbench, shop::CutRun record, const KeptRun& kept, std::string who)
      : workbench_(workbench),
        record_(std::move(record)),
        plan_(kept.plan),
        trail_(bare_end(kept.profile)),
        run_(kept.run),
        who_(std::move(who)) {}

  Result<void> note(const spool::Entry& entry) override {
    spool::Run run = run_;
    if (auto sound = run.apply(entry); !sound) return sound;
    shop::CutRun record = record_;
    const std::string at = now();
    const auto done = workbench_.store().change([&](store::Book& book) -> Result<void> {
      book.append_mark(record.id, {at, spool::text_of(entry)});
      // Once a run is over, what is doubtful, or was found spoiled, is used film all the same.
      Mm used = run.over() ? std::max(far_end(plan_, run, true), touched(book))
                           : far_end(plan_, run, false);
      if (run.over() && used > Mm{0}) used = used + trail_;
      if (auto booked = book_film(book, record, used, at); !booked) return booked;
      record.over = run.over();
      if (record.over && record.used > Mm{0}) {
        if (auto off = write_off_rest(book, at); !off) return off;
      }
      book.update(record);
      if (entry.mark != Mark::begun && entry.mark != Mark::done) {
        book.append(record.job, {at, who_, in_words(entry), in_numbers(run, record, entry)});
      }
      return {};
    });
    if (!done) return done;
    run_ = std::move(run);
    record_ = std::move(record);
    return {};
  }

 private:
  /// How far the contours that were ever begun reach.
  Mm touched(store::Book& book) const {
    double far = 0;
    for (const shop::CutMark& mark : book.marks(record_.id)) {
      const auto entry = spool::entry_from(mark.text);
      if (!entry || entry->mark != Mark::begun) continue;
      for (const Vec2 p : plan_.contours[entry->contour].drawn) far = std::max(far, p.x);
    }
    return Mm{far};
  }

  /// What is cut is used, whatever the book thought the roll to hold: then it is empty.
  Result<void> book_film(store::Book& book, shop::CutRun& record, Mm used,
                         const std::string& at) const {
    if (used <= record.used) return {};
    const auto roll = book.roll(record.roll);
    const Mm taken = roll ? std::min(shop::booked(used - record.used), roll->remaining) : Mm{0};
    record.used = used;
    if (!(taken > Mm{0})) return {};
    auto line = shop::cut(*roll, taken, record.job);
    if (!line) return Failure(line.error());
    line->who = who_;
    line->why = record.id;
    line->at = at;
    const auto after = book.enter(*line);
    return after ? Result<void>{} : Result<void>(Failure(after.error()));
  }

  /// An offcut is cut from once.
  Result<void> write_off_rest(store::Book& book, const std::string& at) const {
    if (!book.offcut(record_.roll)) return {};
    const auto roll = book.roll(record_.roll);
    if (!(roll->remaining > Mm{0})) return {};
    auto line = shop::write_off(*roll, roll->remaining, "rest of an offcut, " + record_.id);
    if (!line) return Failure(line.error());
    line->who = who_;
    line->at = at;
    const auto after = book.enter(*line);
    return after ? Result<void>{} : Result<void>(Failure(after.error()));
  }

  static std::string in_words(const spool::Entry& entry) {
    switch (entry.mark) {
      case Mark::opened: return "cutting begun";
      case Mark::paused: return "cutting paused";
      case Mark::interrupted: return "cutting interrupted";
      case Mark::all_sent: return "all sent to the machine";
      case Mark::found_cut: return "contour found cut";
      case Mark::found_uncut: return "contour found not cut";
      case Mark::finished: return "cutting finished";
      case Mark::given_up: return "cutting given up";
      case Mark::begun:
      case Mark::done: break;
    }
    return {};
  }

  std::string in_numbers(const spool::Run& run, const shop::CutRun& record,
                         const spool::Entry& entry) const {
    const RunProgress progress = progress_of(plan_, run);
    std::string text =
        format("{}, {}: {} of {} pieces, {:.2f} of {:.2f} m, {:.0f} mm of roll {}", record.id,
               record.film, progress.pieces_cut, progress.pieces, progress.mm_cut / 1000,
               progress.mm / 1000, record.used.value, record.roll);
    if (entry.mark == Mark::found_cut || entry.mark == Mark::found_uncut) {
      text = format("{}, contour {} of {}", record.id, entry.contour + 1,
                    plan_.pieces[plan_.contours[entry.contour].shape]);
    }
    return entry.detail.empty() ? text : entry.detail + "; " + text;
  }

  Workbench& workbench_;
  shop::CutRun record_;
  const cutting::CutPlan plan_;
  const Mm trail_;
  spool::Run run_;
  const std::string who_;
};

Failure not_cuttable(std::string what, std::string where) {
  return fail(ErrorCode::conflict, std::move(what), std::move(where),
              "Lay the job out and plan its knife path again.");
}

/// The layout as it will be cut, judged by the verifier: the pieces where they lie.
Result<void> check_layout(const LayoutView& layout) {
  const std::string where = "job " + layout.kept.job + " film " + layout.kept.film;
  if (!layout.sheet.unplaced.empty()) return not_cuttable("a piece is not laid", where);
  layout::Problem problem;
  problem.strip = layout.problem.strip;
  layout::Solution solution;
  for (const auto& piece : layout.sheet.pieces) {
    layout::Item item;
    item.id = format("{} {}", piece.item, piece.copy);
    item.shape = piece.outline;
    solution.placements.push_back({problem.items.size(), 0, {}});
    problem.items.push_back(std::move(item));
  }
  solution.length = layout::length_of(problem, solution.placements);
  solution.density = layout::density_of(problem, solution.placements, solution.length);
  const auto violations = layout::verify(problem, solution);
  if (!violations.empty())
    return not_cuttable("the layout fails: " + violations.front().what, where);
  return {};
}

Result<void> check_cuttable(Workbench& workbench, const std::string& job, const std::string& film,
                            const std::string& roll) {
  const auto layout = read_layout(workbench, job, film, roll);
  if (!layout) return Failure(layout.error());
  if (auto sound = check_layout(*layout); !sound) return sound;
  const auto cut = read_cut(workbench, job, film, roll);
  if (!cut) return Failure(cut.error());
  if (cut->kept.sheet != layout->kept.sheet) {
    return not_cuttable("the knife path is of an older layout", "job " + job + " film " + film);
  }
  return {};
}

}  // namespace

Result<void> check_cuttable(Workbench& workbench, const shop::Job& job) {
  const auto layouts =
      workbench.store().look([&job](store::Book& book) { return book.layouts(job.id); });
  if (!layouts) return Failure(layouts.error());
  for (const std::string& film : shop::films_of(job)) {
    const bool laid = std::any_of(layouts->begin(), layouts->end(),
                                  [&film](const auto& layout) { return layout.film == film; });
    if (!laid) return not_cuttable("a film is not laid out", "job " + job.id + " film " + film);
  }
  for (const shop::KeptLayout& layout : *layouts) {
    if (auto sound = check_cuttable(workbench, job.id, layout.film, layout.roll); !sound) {
      return sound;
    }
  }
  return {};
}

Result<RunView> start_book_run(Workbench& workbench, const std::string& job_id,
                               const std::string& film, const std::string& roll_id,
                               const std::string& who) {
  const auto cut = read_cut(workbench, job_id, film, roll_id);
  if (!cut) return Failure(cut.error());
  if (auto sound = check_cuttable(workbench, job_id, cut->kept.film, cut->kept.roll); !sound) {
    return Failure(sound.error());
  }
  const auto started = workbench.store().change([&](store::Book& book) -> Result<shop::CutRun> {
    const auto job = find_job(book, job_id);
    if (!job) return Failure(job.error());
    if (job->state != shop::JobState::released && job->state != shop::JobState::installing) {
      return fail(ErrorCode::conflict, "the job is not released to the plotter", "job " + job_id,
                  "Release it first.");
    }
    const auto layout = find_layout(book, *job, cut->kept.film, cut->kept.roll);
    if (!layout) return Failure(layout.error());
    const auto machine = find_profile(book, cut->kept.profile);
    if (!machine) return Failure(machine.error());
    const auto profile = loaded(machine->settings, *layout);
    const auto program = cutting::program_of(cut->plan, profile);
    if (!program) return Failure(program.error());
    const auto plot = book.blob(cut->kept.plot);
    if (!plot) return Failure(plot.error());
    if (program->bytes() != *plot) {
      return fail(ErrorCode::conflict, "the machine's profile changed since the path was planned",
                  "profile " + machine->id, "Plan the knife path again.");
    }
    const auto roll = book.roll(layout->roll);
    const Mm need = far_end(cut->plan) + bare_end(profile);
    if (!roll || roll->remaining < need) {
      return fail(ErrorCode::conflict,
                  format("{:.0f} mm of film are needed and {:.0f} mm are left", need.value,
                         roll ? roll->remaining.value : 0.0),
                  "roll " + layout->roll, "Lay the job out on another roll.");
    }
    shop::CutRun run;
    run.job = job->id;
    run.film = cut->kept.film;
    run.roll = layout->roll;
    run.machine = machine->id;
    run.plan = cut->kept.path;
    run.profile = book.put_blob(exchange::write_profile(profile));
    run.contours = cut->plan.contours.size();
    run.started = now();
    auto added = book.add(std::move(run));
    if (!added) return Failure(added.error());
    book.append(job->id, {added->started, who, "cutting run made",
                          format("{}: {} on {}", added->id, added->film, machine->settings.name)});
    return std::move(*added);
  });
  if (!started) return Failure(started.error());
  return read_book_run(workbench, started->id);
}

Result<KeptRun> open_book_run(Workbench& workbench, const std::string& run,
                              const std::string& who) {
  const auto link = workbench.store().look([&](store::Book& book) -> Result<cutting::Link> {
    const auto record = find_run(book, run);
    if (!record) return Failure(record.error());
    const auto machine = find_profile(book, record->machine);
    if (!machine) return Failure(machine.error());
    return machine->settings.link;
  });
  if (!link) return Failure(link.error());
  auto lock = lock_for(*link, run);  // before the run is read: it may just be ending elsewhere
  if (!lock) return Failure(lock.error());
  auto opened = workbench.store().look([&](store::Book& book) -> Result<KeptRun> {
    auto record = find_run(book, run);
    if (!record) return Failure(record.error());
    auto kept = read_kept(book, *record);
    if (!kept) return Failure(kept.error());
    kept->journal = std::make_unique<BookJournal>(workbench, std::move(*record), *kept, who);
    kept->lock = std::move(*lock);
    return std::move(*kept);
  });
  if (!opened) return opened;
  if (auto mended = mend_run(*opened); !mended) return Failure(mended.error());
  return opened;
}

Result<RunView> read_book_run(Workbench& workbench, const std::string& run) {
  auto view = workbench.store().look([&](store::Book& book) -> Result<RunView> {
    auto record = find_run(book, run);
    if (!record) return Failure(record.error());
    auto kept = read_kept(book, *record);
    if (!kept) return Failure(kept.error());
    RunProgress progress = progress_of(kept->plan, kept->run);
    return RunView{std::move(*record), kept->profile.link.address, std::move(kept->plan),
                   std::move(progress)};
  });
  if (!view || view->progress.state != spool::RunState::sending) return view;
  cutting::Link link;
  link.address = view->address;
  if (lock_for(link, run)) {
    view->progress.state = spool::RunState::interrupted;
    view->progress.reason = "the program ended while it was sending";
  }
  return view;
}

Result<std::optional<RunView>> newest_run(Workbench& workbench, const std::string& job_id,
                                          const std::string& film, const std::string& roll) {
  const auto id = workbench.store().look([&](store::Book& book) -> Result<std::string> {
    const auto job = find_job(book, job_id);
    if (!job) return Failure(job.error());
    const auto which = film_of(*job, film);
    if (!which) return Failure(which.error());
    for (const shop::CutRun& run : book.runs(job_id)) {
      if (run.film == *which && (roll.empty() || run.roll == roll)) return run.id;
    }
    return std::string{};
  });
  if (!id) return Failure(id.error());
  if (id->empty()) return std::optional<RunView>{};
  auto view = read_book_run(workbench, *id);
  if (!view) return Failure(view.error());
  return std::optional<RunView>(std::move(*view));
}

}  // namespace film::workbench
