#include "workbench/lay_out_job.h"

#include <numbers>

#include "base/text.h"
#include "exchange/piece_json.h"
#include "host/stop.h"
#include "layout/solve.h"
#include "layout/verify.h"
#include "pattern/twin.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/job_glass.h"
#include "workbench/make_pieces.h"
#include "workbench/piece_layout.h"

namespace film::workbench {
namespace {

struct Plan {
  shop::Job job;
  std::string film;
  shop::Roll roll;
  cutting::Margins margins;
  Mm gap;
  bool window = false;  ///< film for windows, laid on the inside
};

Result<shop::Roll> choose_roll(store::Book& book, const std::string& film, const std::string& id) {
  if (!id.empty()) {
    auto roll = book.roll(id);
    if (!roll) {
      return fail(ErrorCode::not_found, "there is no such roll", "roll " + id,
                  "Choose one of the rolls in stock.");
    }
    if (roll->film != film) {
      return fail(ErrorCode::invalid_input,
                  format("this roll is of {}, the pieces are of {}", roll->film, film),
                  "roll " + id, "Choose a roll of the pieces' film.");
    }
    return std::move(*roll);
  }
  std::optional<shop::Roll> most;
  for (auto& roll : book.rolls()) {
    if (roll.film == film && (!most || roll.remaining > most->remaining)) most = std::move(roll);
  }
  if (most) return std::move(*most);
  return fail(ErrorCode::not_found, "there is no roll of this film", "film " + film,
              "Receive a roll of it first.");
}

Result<Plan> make_plan(store::Book& book, const LayoutOrder& order) {
  if (!(order.seconds > 0 && order.seconds <= 86400)) {
    return fail(ErrorCode::invalid_input, format("a search of {} seconds", order.seconds),
                "seconds", "Search for 0.1 to 86400 seconds.");
  }
  auto job = find_job(book, order.job);
  if (!job) return Failure(job.error());
  if (auto open = check_open(*job); !open) return Failure(open.error());
  auto film = film_of(*job, order.film);
  if (!film) return Failure(film.error());
  auto roll = choose_roll(book, *film, order.roll);
  if (!roll) return Failure(roll.error());
  const bool window = book.film(*film)->use == shop::FilmUse::glass;
  return Plan{std::move(*job),
              std::move(*film),
              std::move(*roll),
              knife_margins(book),
              book.settings().value_or(shop::Settings{}).piece_gap,
              window};
}

layout::Problem make_problem(const Plan& plan, const std::vector<pattern::Piece>& pieces) {
  layout::Problem problem;
  problem.name = format("{} {}", plan.job.id, plan.film);
  problem.units = "mm";
  problem.strip.width = plan.roll.width.value;
  problem.strip.gap = plan.gap.value;
  problem.strip.margins = {plan.margins.lead.value, plan.margins.trail.value,
                           plan.margins.low.value, plan.margins.high.value};
  problem.strip.maximum_length = plan.roll.remaining.value;
  problem.items = items_of(pieces);
  return problem;
}

/// The pieces of the plan's film; every panel of it must have one.
Result<std::vector<pattern::Piece>> pieces_to_lay(Workbench& workbench, const Plan& plan,
                                                  const Context& context) {
  auto made = make_pieces(workbench, plan.job.id, context);
  if (!made) return Failure(made.error());
  std::vector<pattern::Piece> pieces;
  for (auto& piece : made->pieces) {
    if (piece.film != plan.film) continue;
    // Pieces are drawn as seen from outside; on a window the film's face looks into the vehicle, so
    // that from its face it is cut mirrored.
    pieces.push_back(plan.window ? pattern::mirrored(piece.piece) : std::move(piece.piece));
  }
  for (const auto& failure : made->failures) {
    for (const auto& item : plan.job.scope) {
      if (item.panel != failure.panel || item.film != plan.film) continue;
      Error error = failure.error;
      error.where =
          format("panel {}{}{}", item.panel, error.where.empty() ? "" : ": ", error.where);
      return Failure(std::move(error));
    }
  }
  return pieces;
}

Result<layout::Solution> search(const layout::Problem& problem, const LayoutOrder& order,
                                const Context& context) {
  const host::Stopwatch watch;
  const auto time_up = host::stop_after(order.seconds);
  layout::SolveOptions options;
  options.seed = order.seed;
  options.share_spent = [watch, &order] { return watch.seconds() / order.seconds; };
  if (order.on_better) {
    options.on_better = [&](const layout::Solution& better) { order.on_better(problem, better); };
  }
  const Context limited([&] { return context.stopped() || time_up(); },
                        [&context](const Progress& p) { context.report(p.stage, p.fraction); },
                        &context.executor());
  return layout::solve(problem, options, limited);
}

/// The independent check: what is not clean is not kept.
Result<void> check_layout(const layout::Problem& problem, const layout::Solution& solution) {
  if (!solution.unplaced.empty()) {
    const auto& first = solution.unplaced.front();
    return fail(ErrorCode::unsupported,
                format("{} of {} pieces cannot be laid on this roll; the first is {}: {}",
                       solution.unplaced.size(), layout::copies_in(problem),
                       problem.items[first.item].id, first.reason),
                problem.name, "Choose a wider roll or one with more film left.");
  }
  const auto violations = layout::verify(problem, solution);
  if (violations.empty()) return {};
  return fail(ErrorCode::unsupported,
              format("the layout found breaks {} rules; the first: {}", violations.size(),
                     violations.front().what),
              problem.name, "Nothing was kept. Try another seed, and report this: it is a defect.");
}

Result<LayoutView> read_view(store::Book& book, shop::KeptLayout kept) {
  const auto problem_bytes = book.blob(kept.problem);
  if (!problem_bytes) return Failure(problem_bytes.error());
  auto problem = exchange::read_layout_problem(*problem_bytes);
  if (!problem) return Failure(problem.error());
  const auto sheet_bytes = book.blob(kept.sheet);
  if (!sheet_bytes) return Failure(sheet_bytes.error());
  auto sheet = exchange::read_layout_sheet(*sheet_bytes);
  if (!sheet) return Failure(sheet.error());
  return LayoutView{std::move(kept), std::move(*problem), std::move(*sheet)};
}

Result<LayoutView> keep(Workbench& workbench, const Plan& plan, LayoutView view,
                        const std::vector<pattern::Piece>& pieces, const std::string& who) {
  const std::string problem = exchange::write_layout_problem(view.problem);
  const std::string sheet = exchange::write_layout_sheet(view.sheet);
  const std::string laid = exchange::write_pieces(pieces);
  return workbench.store().change([&](store::Book& book) -> Result<LayoutView> {
    auto job = find_job(book, plan.job.id);
    if (!job) return Failure(job.error());
    if (auto open = check_open(*job); !open) return Failure(open.error());
    if (job->scope != plan.job.scope) {
      return fail(ErrorCode::conflict, "the job's scope changed while it was laid out",
                  "job " + job->id, "Lay it out again.");
    }
    view.kept.problem = book.put_blob(problem);
    view.kept.sheet = book.put_blob(sheet);
    view.kept.pieces = book.put_blob(laid);
    book.put(view.kept);
    const shop::HistoryEntry entry{
        view.kept.made, who, "layout kept",
        format("{}: {} pieces on {:.0f} mm of roll {}, {:.1f} % waste", plan.film,
               view.sheet.pieces.size(), view.kept.length.value, plan.roll.id,
               100 - view.sheet.density_pct)};
    if (auto recorded = record_work(book, std::move(*job), entry); !recorded) {
      return Failure(recorded.error());
    }
    return std::move(view);
  });
}

}  // namespace

Result<LayoutView> lay_out_job(Workbench& workbench, const LayoutOrder& order,
                               const Context& context) {
  const auto plan =
      workbench.store().look([&order](store::Book& book) { return make_plan(book, order); });
  if (!plan) return Failure(plan.error());
  if (auto decided = check_decided(workbench, plan->job, plan->film); !decided) {
    return Failure(decided.error());
  }
  auto pieces = pieces_to_lay(workbench, *plan, context);
  if (!pieces) return Failure(pieces.error());

  const host::Stopwatch watch;
  layout::Problem problem = make_problem(*plan, *pieces);
  const auto solution = search(problem, order, context);
  if (!solution) return Failure(solution.error());
  if (auto clean = check_layout(problem, *solution); !clean) return Failure(clean.error());

  LayoutView view;
  view.kept = {plan->job.id,
               plan->film,
               plan->roll.id,
               plan->roll.width,
               Mm{solution->length},
               plan->gap,
               layout::area_of(problem),
               order.seed,
               solution->iterations,
               watch.seconds(),
               now(),
               {},
               {},
               {}};
  view.sheet = exchange::make_sheet(problem, *solution);
  carry_slits(*pieces, view.sheet);
  for (auto& laid : view.sheet.pieces) {
    for (const auto& piece : *pieces) {
      if (piece.id == laid.item) laid.label = piece.name;
    }
  }
  view.problem = std::move(problem);
  return keep(workbench, *plan, std::move(view), *pieces, order.who);
}

Result<void> check_order(Workbench& workbench, const LayoutOrder& order) {
  const auto plan =
      workbench.store().look([&order](store::Book& book) { return make_plan(book, order); });
  if (!plan) return Failure(plan.error());
  return check_decided(workbench, plan->job, plan->film);
}

Result<LayoutView> read_layout(Workbench& workbench, const std::string& job_id,
                               const std::string& film) {
  return workbench.store().look([&](store::Book& book) -> Result<LayoutView> {
    const auto job = find_job(book, job_id);
    if (!job) return Failure(job.error());
    const auto which = film_of(*job, film);
    if (!which) return Failure(which.error());
    auto kept = find_layout(book, *job, *which);
    if (!kept) return Failure(kept.error());
    return read_view(book, std::move(*kept));
  });
}

}  // namespace film::workbench
