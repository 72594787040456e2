#include "cutting/picture.h"

#include <algorithm>

#include "base/text.h"

namespace film::cutting {
namespace {

using formats::Colour;
using formats::Layer;

Layer layer(std::string name, Colour stroke, Mm width, Mm dash = Mm{0}) {
  Layer out;
  out.name = std::move(name);
  out.style = {stroke, std::nullopt, width, dash};
  return out;
}

Ring rectangle(const Box& box) {
  return {box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}};
}

Polyline arrow(const Polyline& way, double size) {
  const Vec2 along = way[1] - way[0];
  const Vec2 unit = along / std::max(length(along), 1e-9);
  const Vec2 tip = way[0] + size * unit;
  const Vec2 side = 0.3 * size * left_of(unit);
  return {way[0] + side, tip, way[0] - side};
}

}  // namespace

Polyline bare_line(const Contour& contour) {
  Polyline out{contour.drawn.front()};
  double left = contour.drawn_length;
  for (std::size_t i = 1; i < contour.drawn.size() && left > 1e-9; ++i) {
    left -= distance(contour.drawn[i - 1], contour.drawn[i]);
    out.push_back(contour.drawn[i]);
  }
  if (!is_open(contour.kind) && out.size() > 1) out.pop_back();
  return out;
}

formats::Drawing picture_of(const CutPlan& plan) {
  // Marks are sized by the roll so that a whole job stays readable.
  const double size = std::clamp(plan.media.height() / 100, 2.0, 12.0);
  const Mm line{size / 16};
  Layer film = layer("film", {150, 150, 150}, line);
  Layer travel = layer("travel", {230, 140, 20}, line, Mm{size / 3});
  Layer align = layer("alignment", {150, 60, 160}, line);
  Layer cut = layer("cut", {20, 70, 140}, 1.5 * line);
  Layer overcut = layer("overcut", {200, 30, 40}, 2.5 * line);
  Layer start = layer("start", {20, 130, 70}, 1.5 * line);
  Layer order = layer("order", {40, 40, 40}, line);

  film.regions.push_back({rectangle(plan.media), {}});
  for (const KnifeMove& move : moves_of(plan)) {
    if (move.phase == Phase::travel) travel.lines.push_back(move.axis);
    if (move.phase == Phase::align) align.lines.push_back(move.axis);
    if (move.phase == Phase::overcut) overcut.lines.push_back(move.axis);
  }
  for (std::size_t k = 0; k < plan.contours.size(); ++k) {
    const Contour& contour = plan.contours[k];
    const Polyline way = bare_line(contour);
    if (is_open(contour.kind)) {
      cut.lines.push_back(way);
    } else {
      cut.regions.push_back({way, {}});
    }
    if (contour.kind == ContourKind::aid) continue;  // numbers on every letter hide the pieces
    start.lines.push_back(arrow(contour.drawn, size));
    order.writings.push_back(
        {format("{}", k + 1), contour.drawn.front() + Vec2{size, size}, Mm{size}, {}});
  }
  formats::Drawing drawing;
  drawing.title = format("Knife path, {} contours", plan.contours.size());
  drawing.page = plan.media;
  drawing.layers = {film, cut, travel, align, overcut, start, order};
  return drawing;
}

formats::Drawing contours_of(const CutPlan& plan) {
  Layer outline = layer("outline", {0, 0, 0}, Mm{0.1});
  Layer hole = layer("hole", {0, 0, 255}, Mm{0.1});
  Layer slit = layer("slit", {255, 0, 0}, Mm{0.1});
  Layer aid = layer("aid", {0, 140, 70}, Mm{0.1});
  for (const Contour& contour : plan.contours) {
    switch (contour.kind) {
      case ContourKind::outline: outline.regions.push_back({bare_line(contour), {}}); break;
      case ContourKind::hole: hole.regions.push_back({bare_line(contour), {}}); break;
      case ContourKind::slit: slit.lines.push_back(bare_line(contour)); break;
      case ContourKind::aid: aid.lines.push_back(bare_line(contour)); break;
    }
  }
  formats::Drawing drawing;
  drawing.title = "Contours";
  drawing.page = plan.media;
  drawing.layers = {outline, hole, slit};
  if (!aid.lines.empty()) drawing.layers.push_back(aid);
  return drawing;
}

}  // namespace film::cutting
