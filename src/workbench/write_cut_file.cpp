#include "workbench/write_cut_file.h"

#include "base/text.h"
#include "cutting/picture.h"
#include "formats/drawing.h"
#include "formats/dxf.h"
#include "formats/pdf.h"
#include "formats/svg.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/plan_job_cut.h"

namespace film::workbench {
namespace {

using formats::Drawing;
using formats::Layer;

Layer scaled(Layer layer, double scale) {
  const auto shrink = [scale](auto& points) {
    for (Vec2& p : points) p = scale * p;
  };
  for (Polygon& region : layer.regions) {
    shrink(region.outer);
    for (Ring& hole : region.holes) shrink(hole);
  }
  for (Polyline& line : layer.lines) shrink(line);
  for (auto& writing : layer.writings) {
    writing.at = scale * writing.at;
    writing.height = Mm{2};
  }
  return layer;
}

/// At true size where a page can hold it, else one to ten, which its title says.
Result<std::string> pdf_of(Drawing drawing, const shop::KeptCut& cut) {
  constexpr double kLongestPage = 5080;  // ISO 32000-1, annex C: 200 in
  std::string title = format("{} {}", cut.job, cut.film);
  const Box box = formats::extent(drawing);
  if (box.high.x - box.low.x > kLongestPage) {
    for (Layer& layer : drawing.layers) layer = scaled(std::move(layer), 0.1);
    drawing.page.reset();
    title += ", scale 1:10";
  }
  return formats::write_pdf(drawing, {title, "", cut.made});
}

}  // namespace

Result<CutFile> write_cut_file(Workbench& workbench, const std::string& job,
                               const std::string& film, CutForm form) {
  const auto cut = read_cut(workbench, job, film);
  if (!cut) return Failure(cut.error());
  const std::string stem = cut->kept.job + "-" + cut->kept.film;
  if (form == CutForm::plt) {
    auto plot =
        workbench.store().look([&](store::Book& book) { return book.blob(cut->kept.plot); });
    if (!plot) return Failure(plot.error());
    return CutFile{stem + ".plt", "application/vnd.hp-hpgl", std::move(*plot)};
  }
  if (form == CutForm::svg) {
    return CutFile{stem + ".svg", "image/svg+xml",
                   formats::write_svg(cutting::contours_of(cut->plan))};
  }
  if (form == CutForm::dxf) {
    return CutFile{stem + ".dxf", "image/vnd.dxf",
                   formats::write_dxf(cutting::contours_of(cut->plan))};
  }
  auto pdf = pdf_of(cutting::picture_of(cut->plan), cut->kept);
  if (!pdf) return Failure(pdf.error());
  return CutFile{stem + ".pdf", "application/pdf", std::move(*pdf)};
}

}  // namespace film::workbench
