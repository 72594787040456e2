// Draws every panel of the demo vehicle laid flat as one sheet (SVG on stdout): strain, anchors,
// pulls, slack cuts, relief cuts, seams. Right-hand twins are left out; each panel fills its cell.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "base/text.h"
#include "demo/vehicle.h"
#include "formats/svg.h"
#include "geometry/box.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/laying.h"
#include "surface/visibility.h"

namespace {

using namespace film;
using namespace film::surface;
using formats::Colour;

constexpr std::size_t kColumns = 9;
constexpr double kCell = 100;
constexpr double kRoom = 14;  // round the piece, for arrows and the name
constexpr std::size_t kShades = 13;

/// From squeeze (blue) through none (near white) to stretch (orange), in steps.
std::size_t shade_of(const TriangleStrain& s) {
  const double squeeze = (1 - s.minor) / 0.02;
  const double stretch = (s.major - 1) / 0.10;
  const double value = squeeze > stretch ? -std::min(squeeze, 1.0) : std::clamp(stretch, 0.0, 1.0);
  return static_cast<std::size_t>(std::lround((value + 1) / 2 * (kShades - 1)));
}

Colour colour_of(std::size_t shade) {
  const double value = 2 * static_cast<double>(shade) / (kShades - 1) - 1;
  const std::array<double, 3> end =
      value < 0 ? std::array<double, 3>{40, 90, 190} : std::array<double, 3>{215, 95, 15};
  const auto mix = [&](std::size_t k) {
    return static_cast<std::uint8_t>(std::lround(244 + std::abs(value) * (end[k] - 244)));
  };
  return {mix(0), mix(1), mix(2)};
}

formats::Layer layer(const char* name, std::optional<Colour> stroke, std::optional<Colour> fill,
                     double width, double dash = 0) {
  formats::Layer made;
  made.name = name;
  made.style = {stroke, fill, Mm{width}, Mm{dash}};
  return made;
}

struct Sheet {
  std::vector<formats::Layer> shades;
  formats::Layer edge = layer("edge", Colour{32, 37, 40}, {}, 0.25);
  formats::Layer slack = layer("slack", Colour{85, 91, 90}, {}, 0.35, 1.5);
  formats::Layer relief = layer("relief", Colour{190, 10, 60}, {}, 0.9);
  formats::Layer seam = layer("seam", Colour{58, 47, 143}, {}, 0.9, 2);
  formats::Layer pull = layer("pull", Colour{16, 20, 20}, {}, 0.5);
  formats::Layer anchor = layer("anchor", Colour{255, 255, 255}, Colour{16, 20, 20}, 0.4);
  formats::Layer words = layer("words", Colour{32, 37, 40}, {}, 0.2);
};

void add_arrow(formats::Layer& to, Vec2 from, Vec2 way) {
  const Vec2 tip = from + 8 * way;
  const Vec2 side = 1.6 * left_of(way);
  to.lines.push_back({from, tip});
  to.lines.push_back({tip - 2.6 * way + side, tip, tip - 2.6 * way - side});
}

void draw(const shop::Panel& panel, Vec2 corner, Sheet& sheet) {
  const FilmProperties film;
  const auto clean = surface::clean(panel.surface, {}, {});
  FlattenOptions options;
  options.mode = Mode::least_energy;
  options.grain = Vec3{1, 0, 0};
  const auto laid = flatten(clean->mesh, options, {});
  if (!laid) return;
  const auto strains = triangle_strains(clean->mesh, laid->flat);
  LayingOptions laying_options;
  laying_options.visibility = usual_visibility(clean->mesh, Vec3{0, 0, 1});
  const auto laying =
      plan_laying(clean->mesh, laid->flat, strains, report_strain(clean->mesh, laid->flat, film),
                  reach(laid->flat, film, {}), film, laying_options, {});
  if (!laying) return;
  const Box box = bounding_box(laid->flat);
  const double scale = (kCell - 2 * kRoom) / std::max(box.width(), box.height());
  const Vec2 middle = corner + Vec2{kCell / 2, kCell / 2};
  const auto place = [&](Vec2 p) { return middle + scale * (p - box.centre()); };
  const auto line = [&](std::span<const Vec2> points) {
    Polyline placed;
    for (const Vec2 p : points) placed.push_back(place(p));
    return placed;
  };
  for (std::size_t t = 0; t < strains.size(); ++t) {
    Ring ring;
    for (const VertexIndex v : clean->mesh.triangles[t]) ring.push_back(place(laid->flat[v]));
    sheet.shades[shade_of(strains[t])].regions.push_back({ring, {}});
  }
  for (const auto& loop : boundary_loops(clean->mesh)) {
    Polyline outline;
    for (const VertexIndex v : loop) outline.push_back(place(laid->flat[v]));
    outline.push_back(outline.front());
    sheet.edge.lines.push_back(std::move(outline));
  }
  for (const auto& cut : laying->relief.cuts) sheet.relief.lines.push_back(line(cut.on_film));
  for (const auto& seam : laying->seams.seams) sheet.seam.lines.push_back(line(seam.on_film));
  const bool is_bulk = laying->method.choice == Choice::bulk;
  if (laying->bulk) {
    for (const auto& cut : laying->bulk->slack_cuts) sheet.slack.lines.push_back(line(cut.line));
    for (const auto& anchor : laying->bulk->anchors) {
      Ring dot;
      for (int k = 0; k < 12; ++k) {
        dot.push_back(place(anchor.on_film) +
                      1.8 * Vec2{std::cos(k * 0.5236), std::sin(k * 0.5236)});
      }
      sheet.anchor.regions.push_back({dot, {}});
    }
    for (const auto& pull : laying->bulk->pulls) {
      const Vec2 way = pull.to - pull.from;
      const Vec2 out = (pull.amount.value < 0 ? -1.0 : 1.0) / length(way) * way;
      add_arrow(sheet.pull, place(pull.to), out);
    }
  }
  sheet.words.writings.push_back({format("{}: {}", panel.name, is_bulk ? "bulk" : "pre-cut"),
                                  corner + Vec2{kCell / 2, 4}, Mm{3.4}, Angle{0}});
}

}  // namespace

int main() {
  const auto vehicle = demo::make_vehicle();
  Sheet sheet;
  for (std::size_t k = 0; k < kShades; ++k) {
    const Colour colour = colour_of(k);
    sheet.shades.push_back(layer(format("strain_{}", k).c_str(), colour, colour, 0.05));
  }
  std::size_t count = 0;
  for (const auto& panel : vehicle.panels) {
    if (!panel.twin_of.empty()) continue;
    const auto column = static_cast<double>(count % kColumns);
    const auto row = static_cast<double>(count / kColumns);
    draw(panel, {column * kCell, -row * kCell}, sheet);
    ++count;
  }
  formats::Drawing drawing{"Panels of the demo vehicle", std::move(sheet.shades), std::nullopt};
  for (auto* top : {&sheet.edge, &sheet.slack, &sheet.relief, &sheet.seam, &sheet.pull,
                    &sheet.anchor, &sheet.words}) {
    drawing.layers.push_back(std::move(*top));
  }
  const auto svg = formats::write_svg(drawing);
  std::fputs(svg.c_str(), stdout);
}
