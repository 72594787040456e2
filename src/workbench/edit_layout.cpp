#include "workbench/edit_layout.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/assert.h"
#include "base/text.h"
#include "exchange/piece_json.h"
#include "host/stop.h"
#include "layout/edit.h"
#include "layout/solve.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/piece_layout.h"

namespace film::workbench {
namespace {

/// Rings of places that settle tries, the next this much farther out, and places on each.
constexpr double kFirstRing = 0.25;  // mm
constexpr double kWider = 1.6;
constexpr int kDirections = 24;
constexpr int kHalvings = 7;

struct Table {
  shop::KeptLayout kept;
  layout::Problem problem;
  std::vector<layout::PlacedPiece> placements;
};

Result<shop::KeptLayout> kept_of(store::Book& book, const LayoutEdit& edit) {
  const auto job = find_job(book, edit.job);
  if (!job) return Failure(job.error());
  const auto film = film_of(*job, edit.film);
  if (!film) return Failure(film.error());
  for (shop::KeptLayout& layout : book.layouts(job->id)) {
    if (layout.film == *film && layout.sheet == edit.of) return std::move(layout);
  }
  return fail(ErrorCode::conflict, "another layout of this film was kept meanwhile",
              format("job {} film {}", edit.job, *film), "Load the newer layout and edit that.");
}

Result<Table> table_of(Workbench& workbench, const LayoutEdit& edit) {
  auto kept = workbench.store().look([&edit](store::Book& book) { return kept_of(book, edit); });
  if (!kept) return Failure(kept.error());
  const auto problem = workbench.problem(kept->problem);
  if (!problem) return Failure(problem.error());
  Table table{std::move(*kept), **problem, {}};
  if (edit.defects) table.problem.strip.defects = defects_of(*edit.defects);
  auto placements = placements_of(table.problem, edit.pieces, "pieces");
  if (!placements) return Failure(placements.error());
  table.placements = std::move(*placements);
  return table;
}

layout::Solution solution_of(const Table& table) {
  layout::Solution solution;
  solution.placements = table.placements;
  solution.length = layout::length_of(table.problem, table.placements);
  solution.density = layout::density_of(table.problem, table.placements, solution.length);
  return solution;
}

Clash clash_of(const Table& table, layout::Violation violation) {
  Clash clash{violation.rule, std::move(violation.what), {}};
  for (const std::size_t at : violation.placements) {
    const layout::PlacedPiece& piece = table.placements[at];
    clash.pieces.emplace_back(table.problem.items[piece.item].id, piece.copy);
  }
  return clash;
}

Result<void> check_index(const Table& table, std::size_t index) {
  if (index < table.placements.size()) return {};
  return fail(ErrorCode::invalid_input, "there is no such piece in the layout", "moved");
}

}  // namespace

Result<EditCheck> check_edit(Workbench& workbench, const LayoutEdit& edit,
                             std::optional<std::size_t> moved) {
  const auto table = table_of(workbench, edit);
  if (!table) return Failure(table.error());
  const layout::Solution solution = solution_of(*table);
  std::vector<layout::Violation> violations;
  if (moved) {
    if (auto sound = check_index(*table, *moved); !sound) return Failure(sound.error());
    violations = layout::clashes_at(table->problem, table->placements, *moved,
                                    table->placements[*moved].placement);
  } else {
    violations = layout::verify(table->problem, solution);
  }
  EditCheck check{solution.length, solution.density, {}};
  for (auto& violation : violations) {
    check.clashes.push_back(clash_of(*table, std::move(violation)));
  }
  return check;
}

Result<std::optional<Vec2>> settle(Workbench& workbench, const LayoutEdit& edit, std::size_t moved,
                                   double reach) {
  const auto table = table_of(workbench, edit);
  if (!table) return Failure(table.error());
  if (auto sound = check_index(*table, moved); !sound) return Failure(sound.error());
  const Placement from = table->placements[moved].placement;
  const auto is_free = [&](Vec2 aside) {
    return layout::clashes_at(table->problem, table->placements, moved,
                              {from.turn, from.move + aside})
        .empty();
  };
  if (is_free({0, 0})) return std::optional<Vec2>(from.move);
  for (double radius = kFirstRing; radius <= reach; radius *= kWider) {
    std::optional<Vec2> nearest;
    double least = radius;
    for (int i = 0; i < kDirections; ++i) {
      const double turn = 2 * std::numbers::pi * i / kDirections;
      const Vec2 way{std::cos(turn), std::sin(turn)};
      if (!is_free(least * way)) continue;
      double near = radius / kWider;  // the ring inside had no free place
      double far = least;
      for (int k = 0; k < kHalvings; ++k) {
        const double middle = 0.5 * (near + far);
        (is_free(middle * way) ? far : near) = middle;
      }
      least = far;
      nearest = from.move + far * way;
    }
    if (nearest) return nearest;
  }
  return std::optional<Vec2>();
}

Result<exchange::LayoutSheet> make_room_for(Workbench& workbench, const LayoutEdit& edit,
                                            std::span<const std::size_t> kept,
                                            const Context& context) {
  const auto table = table_of(workbench, edit);
  if (!table) return Failure(table.error());
  std::vector<layout::PlacedPiece> fixed;
  for (const std::size_t at : kept) {
    if (auto sound = check_index(*table, at); !sound) return Failure(sound.error());
    fixed.push_back(table->placements[at]);
  }
  constexpr std::uint64_t kSeed = 1;
  const auto roomy = layout::make_room(table->problem, table->placements, fixed, kSeed, context);
  if (!roomy) return Failure(roomy.error());
  return exchange::make_sheet(table->problem, *roomy);
}

namespace {

/// Keeps what passed the check in place of the layout that was edited.
Result<LayoutView> keep(Workbench& workbench, const LayoutEdit& edit, layout::Problem problem,
                        const layout::Solution& solution, const std::string& who,
                        const std::string& what) {
  return workbench.store().change([&](store::Book& book) -> Result<LayoutView> {
    auto kept = kept_of(book, edit);
    if (!kept) return Failure(kept.error());
    auto job = find_job(book, edit.job);
    if (!job) return Failure(job.error());
    if (auto open = check_open(*job); !open) return Failure(open.error());
    const auto bytes = book.blob(kept->pieces);
    if (!bytes) return Failure(bytes.error());
    const auto pieces = exchange::read_pieces(*bytes);
    if (!pieces) return Failure(pieces.error());

    LayoutView view{std::move(*kept), std::move(problem), {}};
    view.sheet = exchange::make_sheet(view.problem, solution);
    carry_names(*pieces, view.sheet);
    carry_slits(*pieces, view.sheet);
    view.kept.length = Mm{solution.length};
    view.kept.iterations += solution.iterations;
    view.kept.made = now();
    view.kept.problem = book.put_blob(exchange::write_layout_problem(view.problem));
    view.kept.sheet = book.put_blob(exchange::write_layout_sheet(view.sheet));
    book.put(view.kept);
    const shop::HistoryEntry entry{view.kept.made, who, what,
                                   format("{}: {} pieces on {:.0f} mm of roll {}, {:.1f} % waste",
                                          view.kept.film, view.sheet.pieces.size(), solution.length,
                                          view.kept.roll, 100 - view.sheet.density_pct)};
    if (auto recorded = record_work(book, std::move(*job), entry); !recorded) {
      return Failure(recorded.error());
    }
    return view;
  });
}

}  // namespace

Result<LayoutView> keep_edit(Workbench& workbench, const LayoutEdit& edit, const std::string& who) {
  auto table = table_of(workbench, edit);
  if (!table) return Failure(table.error());
  std::sort(table->placements.begin(), table->placements.end(), [](const auto& a, const auto& b) {
    return std::pair(a.item, a.copy) < std::pair(b.item, b.copy);
  });
  const layout::Solution solution = solution_of(*table);
  const auto violations = layout::verify(table->problem, solution);
  if (!violations.empty()) {
    return fail(ErrorCode::conflict,
                format("the layout breaks {} rules; the first: {}", violations.size(),
                       violations.front().what),
                "pieces", "Move the pieces apart, or let room be made.");
  }
  return keep(workbench, edit, std::move(table->problem), solution, who, "layout edited by hand");
}

Result<LayoutView> squeeze_layout(Workbench& workbench, const SqueezeOrder& order,
                                  const Context& context) {
  auto table = table_of(workbench, order.edit);
  if (!table) return Failure(table.error());
  auto locked = placements_of(table->problem, order.locked, "locked");
  if (!locked) return Failure(locked.error());
  const host::Stopwatch watch;
  const auto time_up = host::stop_after(order.seconds);
  layout::SolveOptions options;
  options.start = table->placements;
  options.locked = *locked;
  options.share_spent = [&] { return watch.seconds() / order.seconds; };
  if (order.on_better) {
    options.on_better = [&](const layout::Solution& better) {
      order.on_better(table->problem, better);
    };
  }
  const Context limited([&] { return context.stopped() || time_up(); },
                        [&context](const Progress& p) { context.report(p.stage, p.fraction); },
                        &context.executor());
  const auto solution = layout::solve(table->problem, options, limited);
  if (!solution) return Failure(solution.error());
  if (!solution->unplaced.empty()) {
    return fail(ErrorCode::unsupported,
                format("{} pieces find no room: {}", solution->unplaced.size(),
                       solution->unplaced.front().reason),
                table->problem.name, "Unlock pieces, or lay out on another roll.");
  }
  FILM_ASSERT(layout::verify(table->problem, *solution, *locked).empty());
  return keep(workbench, order.edit, std::move(table->problem), *solution, order.who,
              "layout squeezed");
}

}  // namespace film::workbench
