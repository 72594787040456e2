#include "workbench/allot_film.h"

#include <algorithm>
#include <utility>

#include "base/assert.h"
#include "base/text.h"
#include "formats/svg.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "layout/verify.h"

namespace film::workbench {
namespace {

Polygon raised(const Polygon& polygon, double by) { return apply(Placement{0, {0, by}}, polygon); }

}  // namespace

Result<layout::Allotment> allot_film(const exchange::StockJob& job, const AllotRequest& request,
                                     Context::ProgressSink progress) {
  const host::Stopwatch watch;
  host::ThreadExecutor executor(std::max<std::size_t>(request.threads, 1));
  const Context context(host::stop_after(request.seconds), std::move(progress), &executor);
  layout::AllotOptions options;
  options.seed = request.seed;
  options.grouping = job.grouping;
  if (request.iteration_limit > 0) {
    options.iteration_limit = request.iteration_limit;
  } else {
    options.share_spent = [&] { return watch.seconds() / request.seconds; };
  }
  auto allotment = layout::allot(job.demands, job.stocks, job.terms, options, context);
  if (!allotment) return allotment;
  for (const layout::Portion& portion : allotment->portions) {
    FILM_ASSERT(layout::verify(portion.problem, portion.solution).empty());
  }
  return allotment;
}

std::string picture_of(const exchange::StockJob& job, const layout::Allotment& allotment) {
  double widest = 1;
  for (const layout::Stock& stock : job.stocks) widest = std::max(widest, stock.strip.width);
  const double unit = widest / 400;
  formats::Drawing drawing;
  drawing.title = job.name;
  formats::Layer film;
  film.name = "film";
  film.style = {formats::Colour{120, 130, 140}, formats::Colour{244, 246, 248}, Mm{unit}, Mm{0}};
  formats::Layer defects;
  defects.name = "not to be used";
  defects.style = {formats::Colour{150, 110, 90}, formats::Colour{226, 205, 190}, Mm{unit / 2},
                   Mm{0}};
  formats::Layer pieces;
  pieces.name = "pieces";
  pieces.style = {formats::Colour{20, 60, 90}, formats::Colour{150, 200, 220}, Mm{unit}, Mm{0}};
  formats::Layer labels;
  labels.name = "labels";
  labels.style = {formats::Colour{20, 40, 60}, std::nullopt, Mm{unit}, Mm{0}};
  double base = 0;
  double right = 0;
  for (const layout::Portion& portion : allotment.portions) {
    const layout::Stock& stock = job.stocks[portion.stock];
    const layout::Strip& strip = stock.strip;
    const double length = stock.offcut ? strip.maximum_length : portion.solution.length;
    right = std::max(right, length);
    const double top = base + strip.width;
    film.regions.push_back({{{0, base}, {length, base}, {length, top}, {0, top}}, {}});
    for (const Polygon& defect : strip.defects) {
      if (bounding_box(defect).low.x < length) defects.regions.push_back(raised(defect, base));
    }
    const exchange::LayoutSheet sheet = exchange::make_sheet(portion.problem, portion.solution);
    for (const exchange::LaidPiece& piece : sheet.pieces) {
      const Polygon outline = raised(piece.outline, base);
      pieces.regions.push_back(outline);
      const Box box = bounding_box(outline);
      const double height = std::min({5 * unit, box.width() / 6, box.height() / 2});
      labels.writings.push_back({piece.label, box.centre(), Mm{height}, {}});
    }
    labels.writings.push_back(
        {format("{} {}: {:.0f} mm", stock.film, stock.id, portion.solution.length),
         {length / 2, top + 6 * unit},
         Mm{6 * unit},
         {}});
    base = top + 16 * unit;
  }
  drawing.layers = {film, defects, pieces, labels};
  drawing.page = Box{{-5 * unit, -5 * unit}, {right + 5 * unit, base + 5 * unit}};
  return formats::write_svg(drawing);
}

std::string words_of(const exchange::StockJob& job, const layout::Allotment& allotment) {
  std::string words;
  for (const layout::Portion& portion : allotment.portions) {
    const layout::Stock& stock = job.stocks[portion.stock];
    words += format("{} {}: {} pieces on {:.6g} x {:.6g}, {:.2f} % used, costs {:.6g}\n",
                    stock.film, stock.id, portion.solution.placements.size(), stock.strip.width,
                    portion.solution.length, 100 * portion.solution.density, portion.cost);
  }
  for (const layout::Left& left : allotment.left) {
    words += format("not laid: {} of {}: {}\n", left.copies, job.demands[left.demand].item.id,
                    left.reason);
  }
  return words;
}

}  // namespace film::workbench
