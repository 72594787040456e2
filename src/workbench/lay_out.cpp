#include "workbench/lay_out.h"

#include <algorithm>
#include <utility>

#include "base/assert.h"
#include "formats/svg.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "layout/solve.h"
#include "layout/verify.h"
#include "workbench/piece_layout.h"

namespace film::workbench {
Result<LaidOut> lay_out(const layout::Problem& problem, const LayOutRequest& request,
                        Context::ProgressSink progress) {
  auto start = placements_of(problem, request.start.pieces, request.start.name);
  if (!start) return Failure(start.error());
  const host::Stopwatch watch;
  host::ThreadExecutor executor(std::max<std::size_t>(request.threads, 1));
  const Context context(host::stop_after(request.seconds), std::move(progress), &executor);
  LaidOut laid;
  layout::SolveOptions options;
  options.seed = request.seed;
  options.iteration_limit = request.iteration_limit;
  options.start = *std::move(start);
  if (request.iteration_limit == 0) {
    options.share_spent = [&] { return watch.seconds() / request.seconds; };
  }
  bool first = true;
  options.on_better = [&](const layout::Solution& solution) {
    if (std::exchange(first, false)) laid.first_valid_ms = 1000 * watch.seconds();
    if (request.on_better) request.on_better(exchange::make_sheet(problem, solution));
  };
  const auto solution = layout::solve(problem, options, context);
  if (!solution) return Failure(solution.error());
  FILM_ASSERT(layout::verify(problem, *solution).empty());
  laid.sheet = exchange::make_sheet(problem, *solution);
  laid.iterations = solution->iterations;
  laid.seconds = watch.seconds();
  return laid;
}

std::string file_of(const exchange::LayoutSheet& sheet, LayoutForm form) {
  if (form == LayoutForm::json) return exchange::write_layout_sheet(sheet);
  const double unit = sheet.width / 400;
  formats::Drawing drawing;
  drawing.title = sheet.name;
  formats::Layer film;
  film.name = "film";
  film.style = {formats::Colour{120, 130, 140}, formats::Colour{244, 246, 248}, Mm{unit}, Mm{0}};
  film.regions.push_back(
      {{{0, 0}, {sheet.length, 0}, {sheet.length, sheet.width}, {0, sheet.width}}, {}});
  formats::Layer pieces;
  pieces.name = "pieces";
  pieces.style = {formats::Colour{20, 60, 90}, formats::Colour{150, 200, 220}, Mm{unit}, Mm{0}};
  formats::Layer labels;
  labels.name = "labels";
  labels.style = {formats::Colour{20, 40, 60}, std::nullopt, Mm{unit}, Mm{0}};
  for (const exchange::LaidPiece& piece : sheet.pieces) {
    pieces.regions.push_back(piece.outline);
    const Box box = bounding_box(piece.outline);
    const double height = std::min({5 * unit, box.width() / 6, box.height() / 2});
    labels.writings.push_back({piece.label, box.centre(), Mm{height}, {}});
  }
  drawing.layers = {film, pieces, labels};
  drawing.page = Box{{-5 * unit, -5 * unit}, {sheet.length + 5 * unit, sheet.width + 5 * unit}};
  return formats::write_svg(drawing);
}

}  // namespace film::workbench
