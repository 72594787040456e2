#include "layout/detail/collision/convex_parts.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <limits>

#include "geometry/predicates.h"

namespace film::layout::detail {
namespace {

bool in_closed_triangle(Vec2 a, Vec2 b, Vec2 c, Vec2 p) {
  return orientation(a, b, p) >= 0 && orientation(b, c, p) >= 0 && orientation(c, a, p) >= 0;
}

bool sees(const Ring& ring, const std::vector<Ring>& holes, Vec2 from, Vec2 to) {
  const auto blocks = [&](const Ring& chain) {
    for (std::size_t i = 0; i < chain.size(); ++i) {
      const Vec2 a = chain[i];
      const Vec2 b = chain[(i + 1) % chain.size()];
      if (a == from || a == to || b == from || b == to) continue;
      if (meet(from, to, a, b) != Meeting::none) return true;
    }
    return false;
  };
  if (blocks(ring)) return true;
  for (const Ring& hole : holes) {
    if (blocks(hole)) return true;
  }
  return false;
}

/// Is the way from ring[at] to `to` inside the ring near ring[at]?
bool leads_inside(const Ring& ring, std::size_t at, Vec2 to) {
  const Vec2 before = ring[(at + ring.size() - 1) % ring.size()];
  const Vec2 here = ring[at];
  const Vec2 after = ring[(at + 1) % ring.size()];
  const bool left_of_first = orientation(before, here, to) > 0;
  const bool left_of_second = orientation(here, after, to) > 0;
  return orientation(before, here, after) >= 0 ? left_of_first && left_of_second
                                               : left_of_first || left_of_second;
}

/// Joins a hole to the ring by a two-way bridge between the nearest corners that see each other.
void bridge_in(Ring& ring, const Ring& hole, const std::vector<Ring>& holes) {
  double best = std::numeric_limits<double>::infinity();
  std::size_t from = 0;
  std::size_t into = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    for (std::size_t k = 0; k < hole.size(); ++k) {
      const double d = squared_length(hole[k] - ring[i]);
      if (d >= best || !leads_inside(ring, i, hole[k]) || sees(ring, holes, ring[i], hole[k])) {
        continue;
      }
      best = d;
      from = i;
      into = k;
    }
  }
  Ring joined(ring.begin(), ring.begin() + static_cast<std::ptrdiff_t>(from) + 1);
  for (std::size_t k = 0; k <= hole.size(); ++k) joined.push_back(hole[(into + k) % hole.size()]);
  joined.insert(joined.end(), ring.begin() + static_cast<std::ptrdiff_t>(from), ring.end());
  ring = std::move(joined);
}

Ring single_ring(const Polygon& polygon) {
  Ring ring = polygon.outer;
  std::vector<Ring> holes = polygon.holes;
  while (!holes.empty()) {
    bridge_in(ring, holes.back(), holes);
    holes.pop_back();
  }
  return ring;
}

using Loop = std::vector<std::size_t>;  // indices into the single ring

bool is_ear(const Ring& ring, const Loop& loop, std::size_t at) {
  const std::size_t n = loop.size();
  const Vec2 a = ring[loop[(at + n - 1) % n]];
  const Vec2 b = ring[loop[at]];
  const Vec2 c = ring[loop[(at + 1) % n]];
  if (orientation(a, b, c) <= 0) return false;
  for (std::size_t k = 0; k < n; ++k) {
    const Vec2 p = ring[loop[k]];
    if (p == a || p == b || p == c) continue;
    if (in_closed_triangle(a, b, c, p)) return false;
  }
  return true;
}

/// The ear with the shortest cut, which keeps triangles fat; a flat corner counts as an ear of no
/// area. Falls back to any convex corner when rounding in the input leaves no true ear.
std::size_t best_ear(const Ring& ring, const Loop& loop) {
  const std::size_t n = loop.size();
  std::size_t best = n;
  std::size_t fallback = 0;
  double shortest = std::numeric_limits<double>::infinity();
  for (std::size_t at = 0; at < n; ++at) {
    const Vec2 a = ring[loop[(at + n - 1) % n]];
    const Vec2 c = ring[loop[(at + 1) % n]];
    const int turn = orientation(a, ring[loop[at]], c);
    if (turn == 0) return at;
    if (turn > 0) fallback = at;
    const double cut = squared_length(c - a);
    if (cut < shortest && is_ear(ring, loop, at)) {
      shortest = cut;
      best = at;
    }
  }
  return best == n ? fallback : best;
}

std::vector<Loop> triangles_of(const Ring& ring) {
  Loop loop(ring.size());
  for (std::size_t i = 0; i < loop.size(); ++i) loop[i] = i;
  std::vector<Loop> triangles;
  while (loop.size() >= 3) {
    const std::size_t n = loop.size();
    const std::size_t at = best_ear(ring, loop);
    const Loop ear{loop[(at + n - 1) % n], loop[at], loop[(at + 1) % n]};
    if (orientation(ring[ear[0]], ring[ear[1]], ring[ear[2]]) > 0) triangles.push_back(ear);
    loop.erase(loop.begin() + static_cast<std::ptrdiff_t>(at));
  }
  return triangles;
}

/// `a` and `b` joined over a common side, when that gives a convex loop; else empty.
Loop joined(const Ring& ring, const Loop& a, const Loop& b) {
  const auto same = [&ring](std::size_t i, std::size_t k) { return ring[i] == ring[k]; };
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t k = 0; k < b.size(); ++k) {
      if (!same(a[i], b[(k + 1) % b.size()]) || !same(a[(i + 1) % a.size()], b[k])) continue;
      Loop whole;
      for (std::size_t s = 0; s < a.size(); ++s) whole.push_back(a[(i + 1 + s) % a.size()]);
      for (std::size_t s = 2; s < b.size(); ++s) whole.push_back(b[(k + s) % b.size()]);
      const std::size_t n = whole.size();
      for (std::size_t s = 0; s < n; ++s) {
        if (orientation(ring[whole[s]], ring[whole[(s + 1) % n]], ring[whole[(s + 2) % n]]) < 0) {
          return {};
        }
      }
      return whole;
    }
  }
  return {};
}

Ring without_flat_corners(const Ring& ring, const Loop& loop) {
  Ring out;
  const std::size_t n = loop.size();
  for (std::size_t i = 0; i < n; ++i) {
    if (orientation(ring[loop[(i + n - 1) % n]], ring[loop[i]], ring[loop[(i + 1) % n]]) > 0) {
      out.push_back(ring[loop[i]]);
    }
  }
  return out;
}

/// Finds corners of a region by where they are.
class Outline {
 public:
  explicit Outline(const Polygon& polygon) {
    add(polygon.outer);
    for (const Ring& hole : polygon.holes) add(hole);
    std::sort(sides_.begin(), sides_.end(), [](const Sides& a, const Sides& b) {
      return std::pair(a.at.x, a.at.y) < std::pair(b.at.x, b.at.y);
    });
  }

  [[nodiscard]] ConvexPart part(const Ring& corners) const {
    ConvexPart out;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      out.push_back(corner(corners[i], corners[(i + 1) % corners.size()]));
    }
    return out;
  }

 private:
  struct Sides {
    Vec2 at, previous, next;
  };

  /// The corner at `at` of a part whose next corner is `next`. Where the outline comes by more
  /// than once nothing is claimed.
  [[nodiscard]] Corner corner(Vec2 at, Vec2 next) const {
    Corner out{at, follows(at, next), true, false, {}, {}};
    const auto less = [](const Sides& a, Vec2 b) {
      return std::pair(a.at.x, a.at.y) < std::pair(b.x, b.y);
    };
    const auto first = std::lower_bound(sides_.begin(), sides_.end(), at, less);
    if (first == sides_.end() || first->at != at) return out;
    if (std::next(first) != sides_.end() && std::next(first)->at == at) return out;
    out.convex = orientation(first->previous, at, first->next) > 0;
    out.known = true;
    out.before = outward(first->previous, at);
    out.after = outward(at, first->next);
    return out;
  }

  /// Does some stretch of the outline lie on the side, in its direction? Cuts may run on along it.
  [[nodiscard]] bool follows(Vec2 from, Vec2 to) const {
    return std::any_of(sides_.begin(), sides_.end(), [&](const Sides& side) {
      return dot(side.next - side.at, to - from) > 0 && orientation(from, to, side.at) == 0 &&
             orientation(from, to, side.next) == 0 && dot(side.at - to, to - from) < 0 &&
             dot(side.next - from, to - from) > 0;
    });
  }
  static Vec2 outward(Vec2 from, Vec2 to) { return -left_of(to - from) / distance(from, to); }
  void add(const Ring& ring) {
    const std::size_t n = ring.size();
    for (std::size_t i = 0; i < n; ++i) {
      sides_.push_back({ring[i], ring[(i + n - 1) % n], ring[(i + 1) % n]});
    }
  }
  std::vector<Sides> sides_;
};

}  // namespace

std::vector<ConvexPart> convex_parts(const Polygon& polygon) {
  const Ring ring = single_ring(polygon);
  std::vector<Loop> parts = triangles_of(ring);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    for (std::size_t k = i + 1; k < parts.size();) {
      Loop whole = joined(ring, parts[i], parts[k]);
      if (whole.empty()) {
        ++k;
        continue;
      }
      parts[i] = std::move(whole);
      parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(k));
      k = i + 1;
    }
  }
  const Outline outline(polygon);
  std::vector<ConvexPart> out;
  for (const Loop& part : parts) out.push_back(outline.part(without_flat_corners(ring, part)));
  return out;
}

ConvexPart turned(const ConvexPart& part, Angle turn) {
  const Placement placement{turn.radians, {}};
  ConvexPart out = part;
  for (Corner& corner : out) {
    corner.at = film::apply(placement, corner.at);
    corner.before = film::apply(placement, corner.before);
    corner.after = film::apply(placement, corner.after);
  }
  return out;
}

ConvexPart negated(const ConvexPart& part) {
  ConvexPart out = part;
  for (Corner& corner : out) {
    corner.at = -corner.at;
    corner.before = -corner.before;
    corner.after = -corner.after;
  }
  return out;
}

}  // namespace film::layout::detail
