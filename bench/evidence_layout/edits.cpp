#include "edits.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "figure.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "layout/edit.h"
#include "layout/solve.h"
#include "layout/stock.h"
#include "shapes.h"

namespace film::bench {
namespace {

using namespace layout;

double percentile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

Placement anywhere(const Problem& problem, const Solution& solution, const Item& item, Rng& rng) {
  const Box box = bounding_box(item.shape);
  return {0,
          {rng.uniform(-box.low.x, solution.length - box.high.x),
           rng.uniform(-box.low.y, problem.strip.width - box.high.y)}};
}

void answers() {
  const Problem problem = wavy_problem(300, 3);
  const auto laid = solve(problem, {.iteration_limit = 1}, {});
  Rng rng(4);
  std::vector<double> ms;
  for (int i = 0; i < 1000; ++i) {
    const std::size_t index = rng.below(laid->placements.size());
    const Item& item = problem.items[laid->placements[index].item];
    const Placement at = anywhere(problem, *laid, item, rng);
    const host::Stopwatch watch;
    static_cast<void>(clashes_at(problem, laid->placements, index, at));
    ms.push_back(1000 * watch.seconds());
  }
  say("a piece is dragged among 300 of 100 corners: what clashes, 95th percentile and worst",
      format("{:.2f} ms, {:.2f} ms", percentile(ms, 0.95), percentile(ms, 1)), "under 5 ms", "",
      percentile(ms, 1) < 5);
}

void mends() {
  Problem problem = wavy_problem(101, 3);
  problem.items.back().quantity = 0;
  const auto laid = solve(problem, {.iteration_limit = 20}, {});
  Rng rng(5);
  std::vector<double> ms;
  bool valid = true;
  for (int i = 0; i < 60; ++i) {
    Problem changed = problem;
    std::vector<PlacedPiece> pieces = laid->placements;
    std::vector<PlacedPiece> kept;
    const std::size_t index = rng.below(pieces.size());
    if (i % 3 == 0) {  // moved
      pieces[index].placement = anywhere(problem, *laid, problem.items[pieces[index].item], rng);
      kept = {pieces[index]};
    } else if (i % 3 == 1) {  // added
      changed.items.back().quantity = 1;
    } else {  // removed
      changed.items[pieces[index].item].quantity = 0;
      pieces.erase(pieces.begin() + static_cast<std::ptrdiff_t>(index));
    }
    const host::Stopwatch watch;
    const auto mended = make_room(changed, pieces, kept, 1, {});
    ms.push_back(1000 * watch.seconds());
    valid = valid && mended && verify(changed, *mended, kept).empty();
  }
  say("100 pieces, one moved, added or removed: valid again after, 95th percentile and worst",
      format("{:.0f} ms, {:.0f} ms", percentile(ms, 0.95), percentile(ms, 1)), "100 ms", "",
      valid && percentile(ms, 1) <= 100);
}

Problem random_problem(Rng& rng) {
  Problem problem;
  problem.strip.width = rng.uniform(20, 60);
  problem.strip.gap = rng.below(2) == 0 ? 0 : rng.uniform(0.1, 2);
  if (rng.below(3) == 0) {
    const double x = rng.uniform(0, 30);
    const double y = rng.uniform(0, 15);
    problem.strip.defects = {{{{x, y}, {x + 3, y + 1}, {x + 1, y + 4}}, {}}};
  }
  if (rng.below(5) == 0) problem.strip.frame = rng.uniform(20, 60);
  if (rng.below(4) == 0) problem.grouping = Grouping::in_turn;
  if (rng.below(4) == 0) problem.strip.maximum_length = rng.uniform(10, 40);
  if (rng.below(5) == 0) {  // an offcut
    problem.strip = strip_of_offcut(wavy_piece(rng, rng.uniform(15, 30), 7), problem.strip.gap);
  }
  const std::size_t kinds = 1 + rng.below(5);
  for (std::size_t k = 0; k < kinds; ++k) {
    Item item{std::to_string(k),
              wavy_piece(rng, rng.uniform(2, 9), 5 + static_cast<int>(rng.below(12))),
              1 + static_cast<int>(rng.below(4)),
              {}};
    if (rng.below(6) == 0) {
      const Box box = bounding_box(item.shape);
      const Vec2 c = box.centre();
      const double r = 0.2 * std::min(box.width(), box.height());
      item.shape.holes = {{{c.x - r, c.y - r}, {c.x - r, c.y + r}, {c.x + r, c.y}}};
    }
    if (rng.below(4) != 0) item.turns = {Angle{0}, Angle::from_degrees(180)};
    item.group = std::to_string(k % 2);
    item.priority = static_cast<int>(rng.below(2));
    problem.items.push_back(std::move(item));
  }
  return problem;
}

}  // namespace

void edits() {
  answers();
  mends();
}

void random_jobs(std::size_t count) {
  std::atomic<int> invalid = 0;
  const host::Stopwatch watch;
  host::ThreadExecutor executor(2);
  executor.run(count, [&](std::size_t i) {
    Rng rng(i);
    const Problem problem = random_problem(rng);
    const auto solution = solve(problem, {.seed = rng.next(), .iteration_limit = 15}, {});
    if (!solution || !verify(problem, *solution).empty()) ++invalid;
  });
  say(format("invalid layouts in {} random jobs with gaps, defects, holes, frames, groups, offcuts",
             count),
      format("{} ({:.0f} s)", invalid.load(), watch.seconds()), "0 in 10,000", "exact verifier",
      invalid == 0);
}

}  // namespace film::bench
