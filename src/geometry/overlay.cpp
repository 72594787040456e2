#include "geometry/overlay.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "base/assert.h"
#include "base/text.h"
#include "geometry/detail/planar_lines.h"
#include "geometry/predicates.h"
#include "geometry/simplify.h"

namespace film {
namespace {

using detail::before;

/// How far regions are parted where they would share a corner, mm; far below a knife's width.
constexpr double kParting = 0.01;

struct Border {
  Vec2 from, to;  // region on the left
  bool used = false;
};

/// Is `a` met before `b` when turning clockwise from the direction pivot -> from?
bool first_clockwise(Vec2 pivot, Vec2 from, Vec2 a, Vec2 b) {
  const auto half = [&](Vec2 p) { return orientation(pivot, from, p) + 1; };  // right, ahead, left
  if (half(a) != half(b)) return half(a) < half(b);
  return orientation(pivot, a, b) < 0;
}

/// Borders sorted by start; follows the one that keeps the region tightly on the left.
class Tracer {
 public:
  explicit Tracer(std::vector<Border> borders) : borders_(std::move(borders)) {
    std::sort(borders_.begin(), borders_.end(), [](const Border& a, const Border& b) {
      return a.from != b.from ? before(a.from, b.from) : before(a.to, b.to);
    });
  }

  std::vector<Ring> rings() {
    std::vector<Ring> rings;
    for (Border& start : borders_) {
      if (start.used) continue;
      Ring ring;
      for (Border* at = &start; at && !at->used; at = next(*at)) {
        at->used = true;
        ring.push_back(at->from);
      }
      if (ring.size() >= 3) rings.push_back(std::move(ring));
    }
    return rings;
  }

 private:
  Border* next(const Border& border) {
    auto at = std::lower_bound(borders_.begin(), borders_.end(), border.to,
                               [](const Border& b, Vec2 p) { return before(b.from, p); });
    Border* best = nullptr;
    for (; at != borders_.end() && at->from == border.to; ++at) {
      if (!best || first_clockwise(border.to, border.from, at->to, best->to)) best = &*at;
    }
    return best;
  }

  std::vector<Border> borders_;
};

/// Where several rings (or one ring twice) pass through a point, cuts off the convex corners so
/// that they no longer touch. At most one corner at a point is not convex, and it may stay.
void part_shared_corners(std::vector<Ring>& rings) {
  std::vector<Vec2> points;
  for (const Ring& ring : rings) points.insert(points.end(), ring.begin(), ring.end());
  std::sort(points.begin(), points.end(), before);
  std::vector<Vec2> shared;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i] == points[i - 1]) shared.push_back(points[i]);
  }
  if (shared.empty()) return;
  for (Ring& ring : rings) {
    Ring parted;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 at = ring[i];
      const Vec2 last = ring[(i + ring.size() - 1) % ring.size()];
      const Vec2 next = ring[(i + 1) % ring.size()];
      if (!std::binary_search(shared.begin(), shared.end(), at, before) ||
          orientation(last, at, next) <= 0) {
        parted.push_back(at);
        continue;
      }
      const double cut = std::min({kParting, distance(at, last) / 4, distance(at, next) / 4});
      parted.push_back(at + (cut / distance(at, last)) * (last - at));
      parted.push_back(at + (cut / distance(at, next)) * (next - at));
    }
    ring = std::move(parted);
  }
}

/// Nodes left behind where a line that is now gone met this one, or where two offset lines run on
/// into each other; rounding may have put them off the line by a step of the grid.
Ring without_straight_nodes(const Ring& ring, double most) {
  Ring kept;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 last = kept.empty() ? ring.back() : kept.back();
    const Vec2 next = ring[(i + 1) % ring.size()];
    const bool straight = dot(ring[i] - last, next - ring[i]) >= 0 &&
                          distance_to_segment(ring[i], last, next) <= most;
    if (!straight) kept.push_back(ring[i]);
  }
  return kept;
}

void drop_straight_nodes(std::vector<Ring>& rings) {
  std::vector<Ring> thinned;
  for (const Ring& ring : rings) {
    Ring thin = without_straight_nodes(ring, 2 * kOverlayGrid);
    if (thin.size() >= 3) thinned.push_back(std::move(thin));
  }
  if (!first_meeting(thinned)) {
    rings = std::move(thinned);
    return;
  }
  for (Ring& ring : rings) ring = without_straight_nodes(ring, 0);
  std::erase_if(rings, [](const Ring& ring) { return ring.size() < 3; });
}

bool lies_in(const Ring& inner, const Ring& outer) {
  for (const Vec2 p : inner) {
    const Side side = side_of(std::span(outer), p);
    if (side != Side::boundary) return side == Side::inside;
  }
  return false;
}

/// The smallest of the polygons (largest first) whose outer ring holds the ring.
Polygon* holder(std::vector<Polygon>& polygons, const std::vector<Box>& boxes, const Ring& ring) {
  const Box box = bounding_box(std::span(ring));
  for (std::size_t i = polygons.size(); i-- > 0;) {
    if (!boxes[i].contains(box.low) || !boxes[i].contains(box.high)) continue;
    if (lies_in(ring, polygons[i].outer)) return &polygons[i];
  }
  return nullptr;
}

std::vector<Polygon> assembled(std::vector<Ring> rings) {
  std::vector<Polygon> polygons;
  std::vector<Ring> holes;
  for (Ring& ring : rings) {
    const double size = signed_area(ring);
    if (std::abs(size) <= 2 * kOverlayGrid * perimeter(ring)) continue;  // a rounding sliver
    if (size > 0) {
      polygons.push_back({std::move(ring), {}});
    } else {
      holes.push_back(std::move(ring));
    }
  }
  std::stable_sort(polygons.begin(), polygons.end(), [](const Polygon& a, const Polygon& b) {
    return signed_area(a.outer) > signed_area(b.outer);
  });
  std::vector<Box> boxes;
  for (const Polygon& polygon : polygons) boxes.push_back(bounding_box(polygon));
  for (Ring& hole : holes) {
    if (Polygon* owner = holder(polygons, boxes, hole)) owner->holes.push_back(std::move(hole));
  }
  return polygons;
}

}  // namespace

void Overlay::add(std::size_t layer, std::span<const Vec2> ring) {
  FILM_ASSERT(layer < kLayers);
  Windings weight{};
  weight[layer] = 1;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 from = detail::on_grid(ring[i], kOverlayGrid);
    const Vec2 to = detail::on_grid(ring[(i + 1) % ring.size()], kOverlayGrid);
    if (from != to) lines_.push_back({from, to, weight});
  }
}

void Overlay::add(std::size_t layer, const Polygon& polygon) {
  add(layer, polygon.outer);
  for (const Ring& hole : polygon.holes) add(layer, hole);
}

Result<std::vector<Polygon>> Overlay::region(const Test& test, const Context& context) const {
  std::vector<detail::WindingLine> lines;
  lines.reserve(lines_.size());
  for (const Line& line : lines_) {
    lines.push_back(detail::directed(line.from, line.to, line.weight));
  }
  auto planar = detail::planar(std::move(lines), context);
  if (!planar) return tl::unexpected(planar.error());
  const std::vector<detail::Sides> sides = detail::windings(*planar);
  std::vector<Border> borders;
  for (std::size_t i = 0; i < planar->size(); ++i) {
    const bool left = test(sides[i].left);
    if (left == test(sides[i].right)) continue;
    const detail::WindingLine& line = (*planar)[i];
    borders.push_back(left ? Border{line.from, line.to} : Border{line.to, line.from});
  }
  std::vector<Ring> rings = Tracer(std::move(borders)).rings();
  part_shared_corners(rings);
  drop_straight_nodes(rings);
  return assembled(std::move(rings));
}

std::vector<Polygon> united(std::span<const Polygon> regions) {
  Overlay overlay;
  for (const Polygon& region : regions) overlay.add(0, region);
  return *overlay.region([](const Overlay::Windings& w) { return w[0] > 0; });
}

std::vector<Polygon> common(const Polygon& a, const Polygon& b) {
  Overlay overlay;
  overlay.add(0, a);
  overlay.add(1, b);
  return *overlay.region([](const Overlay::Windings& w) { return w[0] > 0 && w[1] > 0; });
}

std::vector<Polygon> without(const Polygon& a, const Polygon& b) {
  Overlay overlay;
  overlay.add(0, a);
  overlay.add(1, b);
  return *overlay.region([](const Overlay::Windings& w) { return w[0] > 0 && w[1] <= 0; });
}

Result<std::vector<Polygon>> nested_polygons(std::vector<Ring> rings) {
  if (const auto at = first_meeting(rings)) {
    return fail(ErrorCode::invalid_input, "closed lines cross or touch",
                format("near ({:.3f}, {:.3f})", at->x, at->y),
                "Draw each outline and opening as one simple closed curve");
  }
  std::stable_sort(rings.begin(), rings.end(), [](const Ring& a, const Ring& b) {
    return std::abs(signed_area(a)) > std::abs(signed_area(b));
  });
  struct Nest {
    Ring outer;
    Box box;
    std::vector<Ring> holes;
  };
  std::vector<Nest> nests;
  std::vector<std::size_t> depth;    // of each ring, in rings it lies in
  std::vector<std::size_t> nest_of;  // for rings of even depth
  std::vector<Box> boxes;
  for (const Ring& ring : rings) boxes.push_back(bounding_box(std::span(ring)));
  for (std::size_t i = 0; i < rings.size(); ++i) {
    std::size_t level = 0;
    std::size_t owner = 0;
    for (std::size_t j = 0; j < i; ++j) {
      if (!boxes[j].contains(boxes[i].low) || !boxes[j].contains(boxes[i].high)) continue;
      if (!lies_in(rings[i], rings[j])) continue;
      if (depth[j] + 1 > level) {
        level = depth[j] + 1;
        owner = nest_of[j];
      }
    }
    depth.push_back(level);
    if (level % 2 == 0) {
      nest_of.push_back(nests.size());
      nests.push_back({rings[i], boxes[i], {}});
    } else {
      nest_of.push_back(owner);
      nests[owner].holes.push_back(rings[i]);
    }
  }
  std::vector<Polygon> polygons;
  for (Nest& nest : nests) {
    auto polygon = make_polygon(std::move(nest.outer), std::move(nest.holes));
    if (!polygon) return tl::unexpected(polygon.error());
    polygons.push_back(std::move(*polygon));
  }
  return polygons;
}

}  // namespace film
