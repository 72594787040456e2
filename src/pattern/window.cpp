#include "pattern/window.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/assert.h"
#include "base/text.h"
#include "geometry/box.h"

namespace film::pattern {
namespace {

constexpr std::size_t kCells = 48;  // across the longer side; halving changes results by under 1 %
constexpr double kNegligible = 0.002;  // shrink that any film lying flat takes up by itself

struct Curving {
  std::vector<double> defect;  // 2 pi less the angles round each vertex; 0 on the boundary
  std::vector<double> area;    // a third of the triangles round it
};

double angle_at(Vec3 a, Vec3 b, Vec3 c) {
  const Vec3 u = b - a;
  const Vec3 v = c - a;
  return std::atan2(length(cross(u, v)), dot(u, v));
}

Curving curving_of(const TriMesh& surface) {
  Curving curving{std::vector<double>(surface.points.size(), 2 * std::numbers::pi),
                  std::vector<double>(surface.points.size(), 0)};
  for (const Triangle& t : surface.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 a = surface.points[t[k]];
      const Vec3 b = surface.points[t[(k + 1) % 3]];
      const Vec3 c = surface.points[t[(k + 2) % 3]];
      curving.defect[t[k]] -= angle_at(a, b, c);
      curving.area[t[k]] += length(cross(b - a, c - a)) / 6;
    }
  }
  for (const auto& loop : boundary_loops(surface)) {
    for (const VertexIndex v : loop) curving.defect[v] = 0;
  }
  return curving;
}

// Gaussian curvature over the flat piece in square cells.
struct Field {
  std::size_t columns = 0, rows = 0;
  double cell = 1;
  std::vector<double> curvature;
  std::vector<bool> covered;
  [[nodiscard]] std::size_t at(std::size_t x, std::size_t y) const { return y * columns + x; }
};

Field field_of(const Curving& curving, std::span<const Vec2> flat, bool turned) {
  Box box;
  const auto place = [turned](Vec2 p) { return turned ? Vec2{p.y, p.x} : p; };
  box = Box{place(flat.front()), place(flat.front())};
  for (const Vec2 p : flat) {
    const Vec2 q = place(p);
    box.low = {std::min(box.low.x, q.x), std::min(box.low.y, q.y)};
    box.high = {std::max(box.high.x, q.x), std::max(box.high.y, q.y)};
  }
  Field field;
  field.cell = std::max(box.width(), box.height()) / kCells;
  field.columns = static_cast<std::size_t>(box.width() / field.cell) + 1;
  field.rows = static_cast<std::size_t>(box.height() / field.cell) + 1;
  std::vector<double> defect(field.columns * field.rows, 0);
  std::vector<double> area(defect.size(), 0);
  for (std::size_t v = 0; v < flat.size(); ++v) {
    const Vec2 q = place(flat[v]) - box.low;
    const std::size_t k = field.at(static_cast<std::size_t>(q.x / field.cell),
                                   static_cast<std::size_t>(q.y / field.cell));
    defect[k] += curving.defect[v];
    area[k] += curving.area[v];
  }
  // A cell without a vertex inside the pane has the curvature round it: spread over neighbours.
  field.curvature.assign(defect.size(), 0);
  field.covered.assign(defect.size(), false);
  for (std::size_t y = 0; y < field.rows; ++y) {
    for (std::size_t x = 0; x < field.columns; ++x) {
      double d = 0, a = 0;
      for (std::size_t j = y > 0 ? y - 1 : 0; j <= std::min(y + 1, field.rows - 1); ++j) {
        for (std::size_t i = x > 0 ? x - 1 : 0; i <= std::min(x + 1, field.columns - 1); ++i) {
          d += defect[field.at(i, j)];
          a += area[field.at(i, j)];
        }
      }
      field.covered[field.at(x, y)] = a > 0;
      field.curvature[field.at(x, y)] = a > 0 ? d / a : 0;
    }
  }
  return field;
}

struct Found {
  ShrinkNeed need;
  double stretched = 0;
};

// From the middle row outwards, column by column: G'' = -K G by the midpoint rule.
Found integrate(const Field& field) {
  Found found;
  double sum = 0;
  std::size_t count = 0;
  const std::size_t middle = field.rows / 2;
  for (std::size_t x = 0; x < field.columns; ++x) {
    for (const bool up : {true, false}) {
      double g = 1, slope = 0;
      for (std::size_t step = 0;; ++step) {
        if (!up && step > middle) break;
        const std::size_t y = up ? middle + step : middle - step;
        if (y >= field.rows) break;
        if (!field.covered[field.at(x, y)]) continue;
        const double h = step == 0 ? field.cell / 2 : field.cell;
        const double k = field.curvature[field.at(x, y)];
        const double half = g + slope * h / 2;
        slope -= k * half * h;
        g += slope * h + k * half * h * h / 2;
        found.need.greatest = std::max(found.need.greatest, 1 - g);
        found.stretched = std::max(found.stretched, g - 1);
        sum += std::max(0.0, 1 - g);
        ++count;
        if (!up && y == 0) break;
      }
    }
  }
  found.need.mean = count > 0 ? sum / static_cast<double>(count) : 0;
  return found;
}

std::string advice_for(const WindowShrink& shrink) {
  const ShrinkNeed& need = shrink.lay_along ? shrink.along : shrink.across;
  if (need.greatest < kNegligible) {
    return "The pane is flat or bends one way only: the film lies without shrinking.";
  }
  std::string text = format(
      "Lay the roll's direction {} the piece. The film must draw together by up "
      "to {:.1f} % along the roll at the edges beside it, {:.1f} % on average; laid the other way "
      "it would be {:.1f} %.",
      shrink.lay_along ? "along" : "across", 100 * need.greatest, 100 * need.mean,
      100 * (shrink.lay_along ? shrink.across : shrink.along).greatest);
  if (shrink.stretched > kNegligible) {
    text += format(
        " Where the pane is saddle-shaped it would have to stretch by {:.1f} %, which "
        "heat does not give: look there first.",
        100 * shrink.stretched);
  }
  return text;
}

}  // namespace

Piece with_window_allowances(Piece piece, const WindowRules& rules) {
  for (EdgeStretch& edge : piece.edges) {
    const bool below =
        std::find(rules.below.begin(), rules.below.end(), edge.name) != rules.below.end();
    if (below) {
      edge.allowance = rules.below_by;
    } else if (edge.kind == EdgeKind::seal || edge.kind == EdgeKind::gap) {
      edge.allowance = -rules.edge_gap;
    }
  }
  piece.grain = Grain::along;
  return piece;
}

std::vector<Vec2> squared(std::span<const Vec2> flat) {
  FILM_ASSERT(!flat.empty());
  const auto turned = [&](double angle) {
    const Vec2 x{std::cos(angle), std::sin(angle)};
    std::vector<Vec2> points;
    points.reserve(flat.size());
    Vec2 low{1e300, 1e300};
    for (const Vec2 p : flat) {
      points.push_back({dot(p, x), x.x * p.y - x.y * p.x});
      low = {std::min(low.x, points.back().x), std::min(low.y, points.back().y)};
    }
    Vec2 size{0, 0};
    for (Vec2& p : points) {
      p = p - low;
      size = {std::max(size.x, p.x), std::max(size.y, p.y)};
    }
    return std::pair{std::move(points), size};
  };
  double best = 0;
  double least = 1e300;
  const auto search = [&](double from, double step, int count) {
    for (int k = 0; k < count; ++k) {
      const Vec2 size = turned(from + step * k).second;
      if (size.x < size.y || size.x * size.y >= least * (1 - 1e-9)) continue;
      least = size.x * size.y;
      best = from + step * k;
    }
  };
  constexpr double kStep = std::numbers::pi / 360;  // half a degree
  search(0, kStep, 360);
  search(best - kStep, kStep / 50, 101);
  return turned(best).first;
}

WindowShrink shrink_of(const TriMesh& surface, std::span<const Vec2> flat) {
  FILM_ASSERT(flat.size() == surface.points.size() && !flat.empty());
  const Curving curving = curving_of(surface);
  WindowShrink shrink;
  for (const double defect : curving.defect) shrink.curvature += defect;
  const Found along = integrate(field_of(curving, flat, false));
  const Found across = integrate(field_of(curving, flat, true));
  shrink.along = along.need;
  shrink.across = across.need;
  shrink.lay_along = along.need.greatest <= across.need.greatest;
  shrink.stretched = shrink.lay_along ? along.stretched : across.stretched;
  shrink.advice = advice_for(shrink);
  return shrink;
}

}  // namespace film::pattern
