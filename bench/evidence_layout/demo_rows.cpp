#include "demo_rows.h"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <vector>

#include "base/text.h"
#include "exchange/layout_json.h"
#include "figure.h"
#include "host/files.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "layout/solve.h"
#include "layout/verify.h"
#include "workbench/run_demo.h"

namespace film::bench {
namespace {

using namespace layout;

constexpr double kGap = 5;     // the shop's setting
constexpr double kMargin = 5;  // kept free along both edges of the roll, for the pinch wheels

/// The pieces of a film of the demo job, grain along the roll.
std::vector<Item> pieces_of(const std::filesystem::path& folder, const std::string& film) {
  std::vector<Item> items;
  const auto bytes = host::read_file(folder / (film + "-layout.json"));
  const auto sheet = bytes ? exchange::read_layout_sheet(*bytes)
                           : Result<exchange::LayoutSheet>(Failure(bytes.error()));
  if (!sheet) {
    std::fprintf(stderr, "%s\n", sheet.error().message().c_str());
    return items;
  }
  for (const exchange::LaidPiece& piece : sheet->pieces) {
    items.push_back({film + " " + piece.item,
                     piece.outline,
                     1,
                     {Angle{0}, Angle::from_degrees(180)},
                     piece.zone});
  }
  return items;
}

Problem on_a_roll(std::vector<Item> items) {
  Problem problem;
  problem.units = "mm";
  problem.strip.width = 1524;
  problem.strip.gap = kGap;
  problem.strip.margins = {kMargin, kMargin, kMargin, kMargin};
  problem.items = std::move(items);
  return problem;
}

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
  double first_ms = 0;
  bool valid = false;
};

Timed timed(const Problem& problem, double seconds) {
  Timed out;
  const host::Stopwatch watch;
  host::ThreadExecutor executor(2);
  const Context context(host::stop_after(seconds), {}, &executor);
  SolveOptions options;
  options.share_spent = [&] { return watch.seconds() / seconds; };
  options.on_better = [&](const Solution&) {
    if (out.first_ms == 0) out.first_ms = 1000 * watch.seconds();
  };
  const auto solution = solve(problem, options, context);
  if (!solution) return out;
  out.valid = verify(problem, *solution).empty() && solution->unplaced.empty();
  out.density = 100 * solution->density;
  out.length = solution->length;
  return out;
}

}  // namespace

void demo_vehicle() {
  const auto folder = std::filesystem::temp_directory_path() / "filmwright-evidence-layout";
  const auto demo = workbench::run_demo({folder, 1, 1}, {});
  if (!demo) {
    std::fprintf(stderr, "%s\n", demo.error().message().c_str());
    return;
  }
  const Problem clear = on_a_roll(pieces_of(folder, demo->films.front().film));
  const Timed minute = timed(clear, 60);
  say(format("demo vehicle, {} pieces of clear film on a 60 in roll, grain along it, after 60 s",
             clear.items.size()),
      format("{:.2f} % used, {:.2f} m", minute.density, minute.length / 1000), "at least 82 %",
      "2 threads; gap and margins 5 mm", minute.valid && minute.density >= 82);
  const double boxes = length_in_boxes(clear);
  say("the same against laying piece by piece in bounding boxes",
      format("{:.2f} m to {:.2f} m: {:.0f} % saved", minute.length / 1000, boxes / 1000,
             100 * (1 - minute.length / boxes)),
      "", "", std::nullopt);
  std::vector<Item> body;
  for (const workbench::DemoFilm& film : demo->films) {
    for (Item& item : pieces_of(folder, film.film)) {
      if (bounding_box(item.shape).height() <= 1514) body.push_back(std::move(item));
    }
  }
  for (int coupon = 0; body.size() < 105; ++coupon) {  // cut to try the blade and for repairs
    body.push_back({format("coupon {}", coupon),
                    {{{0, 0}, {150, 0}, {150, 100}, {0, 100}}, {}},
                    1,
                    {Angle{0}, Angle::from_degrees(180)}});
  }
  const Problem whole = on_a_roll(std::move(body));
  const double bound = area_of(whole) / whole.strip.width;
  for (const double seconds : {1.0, 10.0, 60.0, 300.0}) {
    const Timed one = timed(whole, seconds);
    say(format("a body of {} pieces at 60 in after {:g} s", whole.items.size(), seconds),
        format("{:.2f} m, {:.2f} %{}", one.length / 1000, one.density,
               one.valid ? "" : ", not valid"),
        "", format("area / width: {:.2f} m", bound / 1000), std::nullopt);
  }
  std::error_code gone;
  std::filesystem::remove_all(folder, gone);
}

}  // namespace film::bench
