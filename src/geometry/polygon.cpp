#include "geometry/polygon.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "base/text.h"
#include "geometry/predicates.h"

namespace film {
namespace {

constexpr std::size_t kNobody = static_cast<std::size_t>(-1);

struct Edge {
  Vec2 from, to;
  std::size_t ring = 0, index = 0, ring_size = 0;
  [[nodiscard]] double low_x() const { return std::min(from.x, to.x); }
  [[nodiscard]] double high_x() const { return std::max(from.x, to.x); }
};

void append_edges(std::span<const Vec2> ring, std::size_t number, std::vector<Edge>& edges) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    edges.push_back({ring[i], ring[(i + 1) % ring.size()], number, i, ring.size()});
  }
}

bool follow_each_other(const Edge& a, const Edge& b) {
  if (a.ring != b.ring) return false;
  return (a.index + 1) % a.ring_size == b.index || (b.index + 1) % b.ring_size == a.index;
}

/// Neighbouring edges share an end by right; they must share nothing more.
bool clash(const Edge& a, const Edge& b) {
  if (std::max(a.from.y, a.to.y) < std::min(b.from.y, b.to.y) ||
      std::max(b.from.y, b.to.y) < std::min(a.from.y, a.to.y)) {
    return false;
  }
  const Meeting meeting = meet(a.from, a.to, b.from, b.to);
  if (!follow_each_other(a, b)) return meeting != Meeting::none;
  return meeting == Meeting::overlap || meeting == Meeting::cross;
}

/// Sweep along x; returns the first edge that clashes with another, or kNobody.
std::size_t first_clash(std::vector<Edge>& edges) {
  std::sort(edges.begin(), edges.end(),
            [](const Edge& a, const Edge& b) { return a.low_x() < b.low_x(); });
  std::vector<std::size_t> open;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    std::size_t kept = 0;
    for (const std::size_t j : open) {
      if (edges[j].high_x() < edges[i].low_x()) continue;
      open[kept++] = j;
      if (clash(edges[i], edges[j])) return i;
    }
    open.resize(kept);
    open.push_back(i);
  }
  return kNobody;
}

Ring without_repeats(Ring ring) {
  ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  return ring;
}

Result<Ring> checked_ring(Ring ring, const char* what) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (!std::isfinite(ring[i].x) || !std::isfinite(ring[i].y)) {
      return fail(ErrorCode::invalid_input, "a coordinate is not a finite number",
                  format("{} point {}", what, i));
    }
  }
  ring = without_repeats(std::move(ring));
  if (ring.size() < 3) {
    return fail(ErrorCode::invalid_input, "an outline needs at least 3 distinct points", what);
  }
  if (signed_area(ring) == 0)
    return fail(ErrorCode::invalid_input, "the outline has no area", what);
  return ring;
}

/// The first hole that another holds, or kNobody; the rings are known not to meet.
std::size_t hole_in_hole(const Polygon& polygon) {
  std::vector<Box> boxes;
  for (const Ring& hole : polygon.holes) boxes.push_back(bounding_box(std::span(hole)));
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    for (std::size_t j = 0; j < boxes.size(); ++j) {
      if (i == j || !boxes[j].contains(boxes[i].low) || !boxes[j].contains(boxes[i].high)) continue;
      if (side_of(std::span(polygon.holes[j]), polygon.holes[i].front()) == Side::inside) return i;
    }
  }
  return kNobody;
}

struct Turn {
  double cosine, sine;
};

Turn turn_of(double radians) {
  const double quarters = radians / (std::numbers::pi / 2);
  const double nearest = std::round(quarters);
  if (std::abs(quarters - nearest) < 1e-12) {
    switch (static_cast<long long>(nearest) & 3) {
      case 0: return {1, 0};
      case 1: return {0, 1};
      case 2: return {-1, 0};
      default: return {0, -1};
    }
  }
  return {std::cos(radians), std::sin(radians)};
}

Vec2 apply(Turn turn, Vec2 move, Vec2 p) {
  return {turn.cosine * p.x - turn.sine * p.y + move.x,
          turn.sine * p.x + turn.cosine * p.y + move.y};
}

}  // namespace

double signed_area(std::span<const Vec2> ring) {
  if (ring.size() < 3) return 0;
  double twice = 0;
  const Vec2 origin = ring[0];
  for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
    twice += cross(ring[i] - origin, ring[i + 1] - origin);
  }
  return twice / 2;
}

double area(const Polygon& polygon) {
  double sum = std::abs(signed_area(polygon.outer));
  for (const Ring& hole : polygon.holes) sum -= std::abs(signed_area(hole));
  return sum;
}

double length_of(std::span<const Vec2> polyline) {
  double sum = 0;
  for (std::size_t i = 1; i < polyline.size(); ++i) sum += distance(polyline[i - 1], polyline[i]);
  return sum;
}

double perimeter(std::span<const Vec2> ring) {
  return ring.empty() ? 0 : length_of(ring) + distance(ring.back(), ring.front());
}

Box bounding_box(const Polygon& polygon) { return bounding_box(std::span(polygon.outer)); }

Side side_of(std::span<const Vec2> ring, Vec2 point) {
  bool inside = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[(i + 1) % ring.size()];
    if (meet(a, b, point, point) != Meeting::none) return Side::boundary;
    if ((a.y > point.y) == (b.y > point.y)) continue;
    const int turn = orientation(a, b, point);
    if (b.y > a.y ? turn > 0 : turn < 0) inside = !inside;
  }
  return inside ? Side::inside : Side::outside;
}

Side side_of(const Polygon& polygon, Vec2 point) {
  const Side outer = side_of(std::span(polygon.outer), point);
  if (outer != Side::inside) return outer;
  for (const Ring& hole : polygon.holes) {
    const Side side = side_of(std::span(hole), point);
    if (side == Side::boundary) return Side::boundary;
    if (side == Side::inside) return Side::outside;
  }
  return Side::inside;
}

bool is_simple(std::span<const Vec2> ring) {
  std::vector<Edge> edges;
  append_edges(ring, 0, edges);
  return first_clash(edges) == kNobody;
}

std::optional<Vec2> first_meeting(std::span<const Ring> rings) {
  std::vector<Edge> edges;
  for (std::size_t i = 0; i < rings.size(); ++i) append_edges(rings[i], i, edges);
  const std::size_t at = first_clash(edges);
  if (at == kNobody) return std::nullopt;
  const Edge& edge = edges[at];
  for (const Edge& other : edges) {
    const bool neighbours = other.from == edge.from || other.from == edge.to ||
                            other.to == edge.from || other.to == edge.to;
    if (neighbours || meet(edge.from, edge.to, other.from, other.to) == Meeting::none) continue;
    const Vec2 along = edge.to - edge.from;
    const Vec2 across = other.to - other.from;
    const double area = cross(along, across);
    return area == 0 ? other.from
                     : edge.from + (cross(other.from - edge.from, across) / area) * along;
  }
  return edge.from;
}

Result<Polygon> make_polygon(Ring outer, std::vector<Ring> holes) {
  auto checked = checked_ring(std::move(outer), "outline");
  if (!checked) return tl::unexpected(checked.error());
  Polygon polygon{std::move(*checked), {}};
  if (signed_area(polygon.outer) < 0) std::reverse(polygon.outer.begin(), polygon.outer.end());
  std::vector<Edge> edges;
  append_edges(polygon.outer, 0, edges);
  for (std::size_t h = 0; h < holes.size(); ++h) {
    const std::string name = format("hole {}", h + 1);
    auto hole = checked_ring(std::move(holes[h]), name.c_str());
    if (!hole) return tl::unexpected(hole.error());
    if (signed_area(*hole) > 0) std::reverse(hole->begin(), hole->end());
    if (side_of(std::span(polygon.outer), hole->front()) != Side::inside) {
      return fail(ErrorCode::invalid_input, "a hole lies outside the outline", name);
    }
    append_edges(*hole, h + 1, edges);
    polygon.holes.push_back(std::move(*hole));
  }
  if (const std::size_t at = first_clash(edges); at != kNobody) {
    const Edge& edge = edges[at];
    return fail(ErrorCode::invalid_input,
                format("the outline crosses or touches itself near ({:.3f}, {:.3f})", edge.from.x,
                       edge.from.y),
                edge.ring == 0 ? "outline" : format("hole {}", edge.ring),
                "Redraw it as one simple closed curve");
  }
  if (const std::size_t inner = hole_in_hole(polygon); inner != kNobody) {
    return fail(ErrorCode::invalid_input, "a hole lies inside another hole",
                format("hole {}", inner + 1));
  }
  return polygon;
}

Vec2 apply(const Placement& placement, Vec2 point) {
  return apply(turn_of(placement.turn), placement.move, point);
}

Ring apply(const Placement& placement, std::span<const Vec2> ring) {
  const Turn turn = turn_of(placement.turn);
  Ring moved;
  moved.reserve(ring.size());
  for (const Vec2 p : ring) moved.push_back(apply(turn, placement.move, p));
  return moved;
}

Polygon apply(const Placement& placement, const Polygon& polygon) {
  Polygon moved{apply(placement, std::span(polygon.outer)), {}};
  for (const Ring& hole : polygon.holes) moved.holes.push_back(apply(placement, std::span(hole)));
  return moved;
}

Polygon mirrored(const Polygon& polygon) {
  const auto flip = [](Ring ring) {
    for (Vec2& p : ring) p.y = -p.y;
    std::reverse(ring.begin() + 1, ring.end());
    return ring;
  };
  Polygon result{flip(polygon.outer), {}};
  for (const Ring& hole : polygon.holes) result.holes.push_back(flip(hole));
  return result;
}

}  // namespace film
