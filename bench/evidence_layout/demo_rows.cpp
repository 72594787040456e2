#include "demo_rows.h"

#include <algorithm>
#include <limits>
#include <vector>

#include "base/text.h"
#include "demo_body.h"
#include "figure.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "layout/solve.h"
#include "layout/verify.h"
#include "processor_time.h"

namespace film::bench {
namespace {

using namespace layout;

/// Pieces by falling height in rows across the roll, each in its bounding box: what laying by hand
/// without nesting comes to.
double length_in_boxes(const Problem& problem) {
  std::vector<Box> boxes;
  for (const Item& item : problem.items) boxes.push_back(bounding_box(item.shape));
  std::sort(boxes.begin(), boxes.end(),
            [](const Box& a, const Box& b) { return a.width() > b.width(); });
  const Margins& m = problem.strip.margins;
  double x = m.start;
  double column = 0;
  double y = m.low;
  for (const Box& box : boxes) {
    if (y > m.low && y + box.height() > problem.strip.width - m.high) {
      x += column + problem.strip.gap;
      column = 0;
      y = m.low;
    }
    column = std::max(column, box.width());
    y += box.height() + problem.strip.gap;
  }
  return x + column + m.end;
}

struct Timed {
  double density = 0;
  double length = 0;
  bool valid = false;
};

Timed timed(const Problem& problem, double seconds, Clock clock) {
  constexpr std::size_t kThreads = 2;
  const host::Stopwatch wall;
  const ProcessorWatch cores(kThreads);
  const auto spent = [&] { return clock == Clock::processor ? cores.seconds() : wall.seconds(); };
  host::ThreadExecutor executor(kThreads);
  const Context context([&] { return host::interrupted() || spent() >= seconds; }, {}, &executor);
  SolveOptions options;
  options.share_spent = [&] { return spent() / seconds; };
  const auto solution = solve(problem, options, context);
  Timed out;
  if (!solution) return out;
  out.valid = verify(problem, *solution).empty() && solution->unplaced.empty();
  out.density = 100 * solution->density;
  out.length = solution->length;
  return out;
}

const char* words_of(Clock clock) { return clock == Clock::processor ? " of both cores" : ""; }

}  // namespace

void demo_vehicle(Clock clock) {
  const auto pieces = demo_pieces();
  if (!pieces) return;
  const Problem clear = on_a_roll(pieces->clear);
  const Timed minute = timed(clear, 60, clock);
  say(format("demo vehicle, {} pieces of clear film on a 60 in roll, grain along it, after 60 s{}",
             clear.items.size(), words_of(clock)),
      format("{:.2f} % used, {:.2f} m", minute.density, minute.length / 1000), "at least 82 %",
      "2 threads; gap and margins 5 mm", minute.valid && minute.density >= 82);
  const double boxes = length_in_boxes(clear);
  say("the same against laying piece by piece in bounding boxes",
      format("{:.2f} m to {:.2f} m: {:.0f} % saved", minute.length / 1000, boxes / 1000,
             100 * (1 - minute.length / boxes)),
      "", "", std::nullopt);
}

void whole_body(Clock clock) {
  const auto whole = demo_body();
  if (!whole) return;
  const double bound = area_of(*whole) / whole->strip.width;
  double before = std::numeric_limits<double>::infinity();
  for (const double seconds : {1.0, 10.0, 60.0, 300.0}) {
    const Timed one = timed(*whole, seconds, clock);
    say(format("a body of {} pieces at 60 in after {:g} s{}", whole->items.size(), seconds,
               words_of(clock)),
        format("{:.2f} m, {:.2f} %{}", one.length / 1000, one.density,
               one.valid ? "" : ", not valid"),
        "valid, and not longer than after less time",
        format("area / width: {:.2f} m", bound / 1000), one.valid && one.length <= before);
    before = one.length;
  }
}

}  // namespace film::bench
