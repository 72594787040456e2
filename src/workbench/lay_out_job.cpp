#include "workbench/lay_out_job.h"

#include <algorithm>
#include <optional>

#include "base/text.h"
#include "exchange/piece_json.h"
#include "host/stop.h"
#include "layout/solve.h"
#include "layout/verify.h"
#include "pattern/twin.h"
#include "store/store.h"
#include "workbench/detail/film_at_hand.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/portions.h"
#include "workbench/find_film.h"
#include "workbench/job_glass.h"
#include "workbench/make_pieces.h"
#include "workbench/piece_layout.h"

namespace film::workbench {
namespace {

constexpr double kChoosing = 0.3;  // of the time, where there is a choice of film

struct Plan {
  shop::Job job;
  std::string film;
  std::vector<FilmSource> sources;
  Mm gap;
  bool window = false;  ///< film for windows, laid on the inside
};

Failure no_film(const std::string& film) {
  return fail(ErrorCode::not_found, "there is no roll of this film", "film " + film,
              "Receive a roll of it first.");
}

Result<FilmSource> named_source(store::Book& book, const std::string& film, const std::string& id,
                                double gap) {
  std::optional<FilmSource> source;
  if (const auto offcut = book.offcut(id)) {
    source = {shop::as_roll(*offcut), true, strip_of(*offcut, layout_margins(book), gap)};
  } else if (const auto roll = book.roll(id)) {
    source = {*roll, false, strip_of(*roll, layout_margins(book), gap)};
  } else {
    return fail(ErrorCode::not_found, "there is no such roll or offcut", "roll " + id,
                "Choose one of those in stock.");
  }
  if (source->film.film != film) {
    return fail(ErrorCode::invalid_input,
                format("this roll is of {}, the pieces are of {}", source->film.film, film),
                "roll " + id, "Choose a roll of the pieces' film.");
  }
  return std::move(*source);
}

Result<FilmSource> fullest_roll(store::Book& book, const std::string& film, double gap) {
  std::optional<shop::Roll> most;
  for (auto& roll : book.rolls()) {
    if (roll.film == film && (!most || roll.remaining > most->remaining)) most = std::move(roll);
  }
  if (!most) return no_film(film);
  return FilmSource{*most, false, strip_of(*most, layout_margins(book), gap)};
}

Result<std::vector<FilmSource>> sources_for(store::Book& book, const LayoutOrder& order,
                                            const std::string& film, double gap) {
  if (order.from_all) {
    auto sources = film_at_hand(book, film, gap);
    if (sources.empty()) return no_film(film);
    return sources;
  }
  auto source = order.roll.empty() ? fullest_roll(book, film, gap)
                                   : named_source(book, film, order.roll, gap);
  if (!source) return Failure(source.error());
  return std::vector<FilmSource>{std::move(*source)};
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
  const Mm gap = book.settings().value_or(shop::Settings{}).piece_gap;
  auto sources = sources_for(book, order, *film, gap.value);
  if (!sources) return Failure(sources.error());
  const bool window = book.film(*film)->use == shop::FilmUse::glass;
  return Plan{std::move(*job), std::move(*film), std::move(*sources), gap, window};
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

Result<layout::Solution> search(const FilmPortion& portion, const LayoutOrder& order,
                                double seconds, const Context& context) {
  const host::Stopwatch watch;
  const auto time_up = host::stop_after(seconds);
  layout::SolveOptions options;
  options.seed = order.seed;
  options.start = portion.start;
  options.share_spent = [watch, seconds] { return watch.seconds() / seconds; };
  if (order.on_better) {
    options.on_better = [&](const layout::Solution& better) {
      order.on_better(portion.problem, better);
    };
  }
  const Context limited([&] { return context.stopped() || time_up(); },
                        [&context](const Progress& p) { context.report(p.stage, p.fraction); },
                        &context.executor());
  return layout::solve(portion.problem, options, limited);
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

struct Bytes {
  std::string problem;
  std::string sheet;
};

/// Replaces the film's layouts by these.
Result<std::vector<LayoutView>> keep(Workbench& workbench, const Plan& plan,
                                     std::vector<LayoutView> views,
                                     const std::vector<pattern::Piece>& pieces,
                                     const std::string& who) {
  std::vector<Bytes> bytes;
  for (const LayoutView& view : views) {
    bytes.push_back(
        {exchange::write_layout_problem(view.problem), exchange::write_layout_sheet(view.sheet)});
  }
  const std::string laid = exchange::write_pieces(pieces);
  return workbench.store().change([&](store::Book& book) -> Result<std::vector<LayoutView>> {
    auto job = find_job(book, plan.job.id);
    if (!job) return Failure(job.error());
    if (auto open = check_open(*job); !open) return Failure(open.error());
    if (job->scope != plan.job.scope) {
      return fail(ErrorCode::conflict, "the job's scope changed while it was laid out",
                  "job " + job->id, "Lay it out again.");
    }
    book.drop_layouts(job->id, plan.film);
    std::string words = plan.film + ":";
    for (std::size_t i = 0; i < views.size(); ++i) {
      LayoutView& view = views[i];
      if (auto offcut = book.offcut(view.kept.roll); offcut && offcut->gone) {
        return fail(ErrorCode::conflict, "an offcut was used while the job was laid out",
                    "offcut " + offcut->id, "Lay it out again.");
      }
      view.kept.problem = book.put_blob(bytes[i].problem);
      view.kept.sheet = book.put_blob(bytes[i].sheet);
      view.kept.pieces = book.put_blob(laid);
      book.put(view.kept);
      words += format("{} {} pieces on {:.0f} mm of roll {}, {:.1f} % waste", i > 0 ? ";" : "",
                      view.sheet.pieces.size(), view.kept.length.value, view.kept.roll,
                      100 - view.sheet.density_pct);
    }
    const shop::HistoryEntry entry{views.front().kept.made, who, "layout kept", words};
    if (auto recorded = record_work(book, std::move(*job), entry); !recorded) {
      return Failure(recorded.error());
    }
    return std::move(views);
  });
}

LayoutView view_of(const Plan& plan, const LayoutOrder& order, FilmPortion portion,
                   const layout::Solution& solution, const std::vector<pattern::Piece>& pieces) {
  LayoutView view;
  view.kept.job = plan.job.id;
  view.kept.film = plan.film;
  view.kept.roll = portion.source.film.id;
  view.kept.width = portion.source.film.width;
  view.kept.length = Mm{solution.length};
  view.kept.gap = plan.gap;
  view.kept.piece_area = layout::area_of(portion.problem);
  view.kept.seed = order.seed;
  view.kept.iterations = solution.iterations;
  view.kept.made = now();
  view.sheet = exchange::make_sheet(portion.problem, solution);
  carry_names(pieces, view.sheet);
  carry_slits(pieces, view.sheet);
  view.problem = std::move(portion.problem);
  return view;
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
  const std::string name = plan->job.id + " " + plan->film;
  auto portions = part(items_of(*pieces), plan->sources,
                       {name, kChoosing * order.seconds, order.seed}, context);
  if (!portions) return Failure(portions.error());
  double area_left = 0;
  for (const FilmPortion& portion : *portions) area_left += layout::area_of(portion.problem);
  std::vector<LayoutView> views;
  for (FilmPortion& portion : *portions) {
    const host::Stopwatch begun;
    const double share = layout::area_of(portion.problem) / area_left;
    area_left -= layout::area_of(portion.problem);
    const double left = std::max(0.0, order.seconds - watch.seconds());
    const auto solution = search(portion, order, std::max(0.05, share * left), context);
    if (!solution) return Failure(solution.error());
    if (auto clean = check_layout(portion.problem, *solution); !clean) {
      return Failure(clean.error());
    }
    views.push_back(view_of(*plan, order, std::move(portion), *solution, *pieces));
    views.back().kept.seconds = begun.seconds();
  }
  auto kept = keep(workbench, *plan, std::move(views), *pieces, order.who);
  if (!kept) return Failure(kept.error());
  return std::move(kept->front());
}

Result<void> check_order(Workbench& workbench, const LayoutOrder& order) {
  const auto plan =
      workbench.store().look([&order](store::Book& book) { return make_plan(book, order); });
  if (!plan) return Failure(plan.error());
  return check_decided(workbench, plan->job, plan->film);
}

Result<LayoutView> read_layout(Workbench& workbench, const std::string& job_id,
                               const std::string& film, const std::string& roll) {
  return workbench.store().look([&](store::Book& book) -> Result<LayoutView> {
    const auto job = find_job(book, job_id);
    if (!job) return Failure(job.error());
    const auto which = film_of(*job, film);
    if (!which) return Failure(which.error());
    auto kept = find_layout(book, *job, *which, roll);
    if (!kept) return Failure(kept.error());
    return read_view(book, std::move(*kept));
  });
}

}  // namespace film::workbench
