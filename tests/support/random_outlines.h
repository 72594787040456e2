#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "base/rng.h"
#include "geometry/polygon.h"
#include "geometry/predicates.h"
#include "geometry/simplify.h"
#include "pattern/piece.h"

namespace film::support {

/// A star-shaped ring about a centre: simple by construction, with spikes and bays.
inline Ring star(Rng& rng, Vec2 centre, double radius, std::size_t points, double roughness) {
  Ring ring;
  for (std::size_t i = 0; i < points; ++i) {
    const double angle = 2 * std::numbers::pi * (static_cast<double>(i) + 0.8 * rng.uniform()) /
                         static_cast<double>(points);
    const double r = radius * (1 - roughness * rng.uniform());
    ring.push_back(centre + r * Vec2{std::cos(angle), std::sin(angle)});
  }
  return ring;
}

/// Random points joined to a closed tour that is uncrossed by turning crossing pairs round; gives
/// deep, narrow bays and tongues.
inline Ring tour(Rng& rng, double size, std::size_t points) {
  Ring ring;
  for (std::size_t i = 0; i < points; ++i) {
    ring.push_back({rng.uniform(0, size), rng.uniform(0, size)});
  }
  for (bool crossed = true; crossed;) {
    crossed = false;
    for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
      for (std::size_t j = i + 2; j < ring.size(); ++j) {
        const Vec2 after = ring[(j + 1) % ring.size()];
        if (i == 0 && j + 1 == ring.size()) continue;
        if (meet(ring[i], ring[i + 1], ring[j], after) == Meeting::none) continue;
        std::reverse(ring.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                     ring.begin() + static_cast<std::ptrdiff_t>(j) + 1);
        crossed = true;
      }
    }
  }
  return ring;
}

/// A random region about 200 mm wide, with up to three holes.
inline Polygon random_region(Rng& rng) {
  for (;;) {
    Ring outer = rng.below(2) == 0
                     ? star(rng, {100, 100}, 100, 5 + rng.below(60), rng.uniform(0.05, 0.8))
                     : tour(rng, 200, 5 + rng.below(30));
    std::vector<Ring> holes;
    const std::size_t wanted = rng.below(4);
    for (std::size_t h = 0; h < wanted; ++h) {
      const Vec2 centre{rng.uniform(20, 180), rng.uniform(20, 180)};
      Ring hole = star(rng, centre, rng.uniform(5, 30), 3 + rng.below(20), rng.uniform(0, 0.6));
      std::vector<Ring> with = holes;
      with.push_back(std::move(hole));
      if (make_polygon(outer, with)) holes = std::move(with);
    }
    if (auto polygon = make_polygon(std::move(outer), std::move(holes))) return *polygon;
  }
}

/// A piece whose every fold edge is a stretch of its own, with the allowances that `allowance`
/// gives for the ring and the edge.
template <class Allowance>
pattern::Piece piece_with(Polygon fold, const Allowance& allowance) {
  pattern::Piece piece;
  piece.id = "random";
  piece.fold = std::move(fold);
  for (std::size_t r = 0; r <= piece.fold.holes.size(); ++r) {
    for (std::size_t i = 0; i < pattern::ring_of(piece.fold, r).size(); ++i) {
      pattern::EdgeStretch edge;
      edge.name = std::to_string(r) + "." + std::to_string(i);
      edge.ring = r;
      edge.first = i;
      edge.allowance = Mm{allowance(r, i)};
      piece.edges.push_back(edge);
    }
  }
  return piece;
}

/// Slow and obvious: which points belong to the film of a piece whose every edge is a stretch,
/// with round corners and no transitions.
class FilmOracle {
 public:
  explicit FilmOracle(const pattern::Piece& piece) : piece_(piece) {
    for (std::size_t r = 0, e = 0; r <= piece.fold.holes.size(); ++r) {
      const Ring& ring = pattern::ring_of(piece.fold, r);
      const std::size_t n = ring.size();
      for (std::size_t i = 0; i < n; ++i) {
        edges_.push_back({ring[i], ring[(i + 1) % n], piece.edges[e + i].allowance.value,
                          piece.edges[e + (i + 1) % n].allowance.value, ring[(i + 2) % n]});
      }
      e += n;
    }
  }

  [[nodiscard]] bool belongs(Vec2 q) const {
    bool film = side_of(piece_.fold, q) != film::Side::outside;
    for (const Edge& edge : edges_)
      film = film || (edge.allowance > 0 && in_strip(edge, q)) ||
             (edge.allowance > 0 && edge.next > 0 && in_corner(edge, q));
    for (const Edge& edge : edges_) {
      if (edge.allowance < 0 && in_strip(edge, q)) return false;
      if (edge.allowance < 0 && edge.next < 0 && in_corner(edge, q)) return false;
    }
    return film;
  }

  /// Near a corner where one edge is extended and the other held back: shaped by its own rule.
  [[nodiscard]] bool near_mixed_corner(Vec2 q) const {
    return std::any_of(edges_.begin(), edges_.end(), [q](const Edge& edge) {
      const double reach = 2 * std::max(std::abs(edge.allowance), std::abs(edge.next)) + 0.1;
      return edge.allowance * edge.next < 0 && distance(q, edge.to) < reach;
    });
  }

 private:
  struct Edge {
    Vec2 from, to;
    double allowance, next;  // of this edge and the following one
    Vec2 after;              // end of the following edge
  };

  static Vec2 normal(Vec2 from, Vec2 to, double side) {
    const Vec2 u = (to - from) / distance(from, to);
    return side > 0 ? Vec2{u.y, -u.x} : Vec2{-u.y, u.x};
  }
  static bool in_strip(const Edge& edge, Vec2 q) {
    const Vec2 u = edge.to - edge.from;
    const double along = dot(q - edge.from, u) / squared_length(u);
    const double off = dot(q - edge.from, normal(edge.from, edge.to, edge.allowance));
    return along >= 0 && along <= 1 && off >= 0 && off <= std::abs(edge.allowance);
  }
  /// In the sector between the normals of this edge and the next, on the allowance's side.
  static bool in_corner(const Edge& edge, Vec2 q) {
    const Vec2 n1 = normal(edge.from, edge.to, edge.allowance);
    const Vec2 n2 = normal(edge.to, edge.after, edge.next);
    const double side = edge.allowance > 0 ? 1 : -1;
    const double opening = side * std::atan2(cross(n1, n2), dot(n1, n2));
    if (opening <= 0) return false;
    const Vec2 to = q - edge.to;
    const double at = side * std::atan2(cross(n1, to), dot(n1, to));
    if (at < 0 || at > opening) return false;
    return length(to) <= std::lerp(std::abs(edge.allowance), std::abs(edge.next), at / opening);
  }

  const pattern::Piece& piece_;
  std::vector<Edge> edges_;
};

inline double distance_to_outline(const Polygon& polygon, Vec2 q) {
  double nearest = 1e300;
  const auto visit = [&](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      nearest = std::min(nearest, distance_to_segment(q, ring[i], ring[(i + 1) % ring.size()]));
    }
  };
  visit(polygon.outer);
  for (const Ring& hole : polygon.holes) visit(hole);
  return nearest;
}

}  // namespace film::support
