#include "surface/detail/hierarchy.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/predicates.h"
#include "surface/detail/topology.h"

namespace film::surface::detail {
namespace {

constexpr std::uint32_t kNone = static_cast<std::uint32_t>(-1);
constexpr std::size_t kGreatestRing = 10;
constexpr double kLeastQuality = 0.15;     // of new triangles, 1 is equilateral
constexpr double kLeastNormalDot = 0.5;    // new triangles against the old ones they replace
constexpr double kStraightBoundary = 0.8;  // cosine of the bend at a boundary vertex taken out

/// The neighbours of a vertex in order round it, surface orientation.
struct Ring {
  std::vector<VertexIndex> at;
  bool closed = false;
};

class Coarsener {
 public:
  explicit Coarsener(const TriMesh& fine)
      : fine_(fine),
        stars_(triangles_at_vertices(fine.triangles, fine.points.size())),
        blocked_(fine.points.size(), 0),
        gone_(fine.triangles.size(), 0),
        first_edge_(fine.points.size(), kNone) {
    result_.removed.reserve(fine.points.size() / 3);
    result_.parents.reserve(2 * fine.points.size());
    result_.weights.reserve(2 * fine.points.size());
    added_.reserve(2 * fine.points.size());
    new_edges_.reserve(2 * fine.points.size());
  }

  Coarsening run() {
    for (VertexIndex v = 0; v < fine_.points.size(); ++v) {
      if (!blocked_[v]) try_to_remove(v);
    }
    compact();
    return std::move(result_);
  }

 private:
  bool read_ring(VertexIndex v) {
    const auto star = stars_.at(v);
    if (star.size() > kGreatestRing || star.size() < 2) return false;
    // Each triangle leads from one neighbour to the next.
    links_.clear();
    for (const std::uint32_t t : star) {
      if (gone_[t]) return false;
      const Triangle& c = fine_.triangles[t];
      const std::size_t k = c[0] == v ? 0 : c[1] == v ? 1 : 2;
      links_.push_back({c[(k + 1) % 3], c[(k + 2) % 3]});
    }
    VertexIndex first = links_[0][0];
    for (const auto& link : links_) {
      const bool has_before = std::any_of(links_.begin(), links_.end(),
                                          [&](const auto& other) { return other[1] == link[0]; });
      if (!has_before) first = link[0];
    }
    ring_.at.assign(1, first);
    ring_.closed = false;
    for (std::size_t i = 0; i < links_.size(); ++i) {
      const auto next = std::find_if(links_.begin(), links_.end(),
                                     [&](const auto& link) { return link[0] == ring_.at.back(); });
      if (next == links_.end()) return false;
      if ((*next)[1] == first) {
        ring_.closed = i + 1 == links_.size();
        return ring_.closed;
      }
      ring_.at.push_back((*next)[1]);
    }
    return true;
  }

  [[nodiscard]] bool joined(VertexIndex a, VertexIndex b) const {
    for (std::uint32_t e = first_edge_[a]; e != kNone; e = new_edges_[e].next) {
      if (new_edges_[e].to == b) return true;
    }
    for (const std::uint32_t t : stars_.at(a)) {
      const Triangle& c = fine_.triangles[t];
      if (c[0] == b || c[1] == b || c[2] == b) return true;
    }
    return false;
  }

  /// Quality of the worst triangle of the fan about ring vertex w, or 0 when it may not be used.
  [[nodiscard]] double fan_quality(std::size_t w, Vec3 normal) const {
    const auto& ring = ring_.at;
    const std::size_t n = ring.size();
    double worst = 1;
    const std::size_t sides = ring_.closed ? n : n - 1;
    for (std::size_t i = 0; i < sides; ++i) {
      const std::size_t j = (i + 1) % n;
      if (i == w || j == w) continue;
      const Vec3 a = fine_.points[ring[w]];
      const Vec3 b = fine_.points[ring[i]];
      const Vec3 c = fine_.points[ring[j]];
      const Vec3 area = cross(b - a, c - a);
      const double size = length(area);
      if (!(dot(area, normal) > kLeastNormalDot * size)) return 0;
      const double lengths = squared_length(b - a) + squared_length(c - b) + squared_length(a - c);
      worst = std::min(worst, 2 * std::sqrt(3.0) * size / lengths);
    }
    return worst;
  }

  void try_to_remove(VertexIndex v) {
    if (!read_ring(v)) return;
    const auto& ring = ring_.at;
    const std::size_t n = ring.size();
    if (n < 3) return;
    Vec3 normal;
    for (const std::uint32_t t : stars_.at(v)) normal += area_vector(fine_, fine_.triangles[t]);
    normal = normal / length(normal);
    if (!ring_.closed) {
      const Vec3 in = fine_.points[v] - fine_.points[ring.back()];
      const Vec3 out = fine_.points[ring.front()] - fine_.points[v];
      if (!(dot(in, out) > kStraightBoundary * length(in) * length(out))) return;
    }
    double best = kLeastQuality;
    std::size_t target = n;
    for (std::size_t w = 0; w < n; ++w) {
      if (!ring_.closed && w != 0 && w + 1 != n) continue;
      const double quality = fan_quality(w, normal);
      if (quality <= best) continue;
      bool free = true;
      for (std::size_t i = 0; i < n && free; ++i) {
        const bool beside = i == w || (i + 1) % n == w || (w + 1) % n == i;
        // On an open ring the two ends are not beside each other.
        const bool ends = !ring_.closed && ((i == 0 && w + 1 == n) || (w == 0 && i + 1 == n));
        if (!beside || ends) free = !joined(ring[w], ring[i]);
      }
      if (!free) continue;
      best = quality;
      target = w;
    }
    if (target < n) remove(v, target, normal);
  }

  void remove(VertexIndex v, std::size_t target, Vec3 normal) {
    const auto& ring = ring_.at;
    const std::size_t n = ring.size();
    if (!set_weights(v, normal)) return;
    result_.removed.push_back({v, ring[target],
                               static_cast<std::uint32_t>(result_.parents.size() - n),
                               static_cast<std::uint32_t>(n)});
    for (const std::uint32_t t : stars_.at(v)) gone_[t] = 1;
    const std::size_t sides = ring_.closed ? n : n - 1;
    for (std::size_t i = 0; i < sides; ++i) {
      const std::size_t j = (i + 1) % n;
      if (i == target || j == target) continue;
      added_.push_back({ring[target], ring[i], ring[j]});
    }
    for (std::size_t i = 0; i < n; ++i) {
      const bool beside = i == target || (i + 1) % n == target || (target + 1) % n == i;
      if (i != target && (!beside || !ring_.closed)) {
        add_edge(ring[target], ring[i]);
        add_edge(ring[i], ring[target]);
      }
      blocked_[ring[i]] = 1;
    }
    blocked_[v] = 2;
  }

  void add_edge(VertexIndex from, VertexIndex to) {
    new_edges_.push_back({to, first_edge_[from]});
    first_edge_[from] = static_cast<std::uint32_t>(new_edges_.size() - 1);
  }

  /// Weights of the ring that give v's place in its tangent plane and repeat linear functions:
  /// those of least squares.
  bool set_weights(VertexIndex v, Vec3 normal) {
    const auto& ring = ring_.at;
    const Vec3 origin = fine_.points[v];
    Vec3 x = fine_.points[ring[0]] - origin;
    x = x - dot(x, normal) * normal;
    if (!(length(x) > 0)) return false;
    x = x / length(x);
    const Vec3 y = cross(normal, x);
    // Distances from v are kept, so that a bent ring is not drawn in.
    places_.clear();
    Vec2 mean;
    for (const VertexIndex r : ring) {
      const Vec3 d = fine_.points[r] - origin;
      const Vec2 p{dot(d, x), dot(d, y)};
      const double in_plane = length(p);
      if (!(in_plane > 0)) return false;
      places_.push_back(length(d) / in_plane * p);
      mean += places_.back() / static_cast<double>(ring.size());
    }
    double xx = 0;
    double xy = 0;
    double yy = 0;
    for (const Vec2 p : places_) {
      const Vec2 d = p - mean;
      xx += d.x * d.x;
      xy += d.x * d.y;
      yy += d.y * d.y;
    }
    const double det = xx * yy - xy * xy;
    if (!(det > 1e-6 * (xx + yy) * (xx + yy))) return false;
    const Vec2 slope{(-yy * mean.x + xy * mean.y) / det, (xy * mean.x - xx * mean.y) / det};
    for (std::size_t i = 0; i < ring.size(); ++i) {
      result_.parents.push_back(ring[i]);
      result_.weights.push_back(1 / static_cast<double>(ring.size()) +
                                dot(slope, places_[i] - mean));
    }
    return true;
  }

  void compact() {
    std::vector<VertexIndex> number(fine_.points.size(), 0);
    for (VertexIndex v = 0; v < fine_.points.size(); ++v) {
      if (blocked_[v] == 2) continue;
      number[v] = static_cast<VertexIndex>(result_.kept.size());
      result_.kept.push_back(v);
      result_.coarse.points.push_back(fine_.points[v]);
    }
    for (std::size_t t = 0; t < fine_.triangles.size(); ++t) {
      if (!gone_[t]) result_.coarse.triangles.push_back(fine_.triangles[t]);
    }
    result_.coarse.triangles.insert(result_.coarse.triangles.end(), added_.begin(), added_.end());
    for (Triangle& t : result_.coarse.triangles) {
      for (VertexIndex& v : t) v = number[v];
    }
  }

  const TriMesh& fine_;
  VertexTriangles stars_;
  std::vector<char> blocked_;  // 1: beside one taken out, 2: taken out
  std::vector<char> gone_;     // triangles
  std::vector<Triangle> added_;
  struct NewEdge {
    VertexIndex to;
    std::uint32_t next;  // of the same vertex
  };
  std::vector<NewEdge> new_edges_;
  std::vector<std::uint32_t> first_edge_;  // of each vertex
  std::vector<std::array<VertexIndex, 2>> links_;
  std::vector<Vec2> places_;
  Ring ring_;
  Coarsening result_;
};

bool star_is_upright(const TriMesh& fine, std::span<const std::uint32_t> star,
                     std::span<const Vec2> flat) {
  return std::all_of(star.begin(), star.end(), [&](std::uint32_t t) {
    const Triangle& c = fine.triangles[t];
    return orientation(flat[c[0]], flat[c[1]], flat[c[2]]) > 0;
  });
}

}  // namespace

Coarsening coarsen(const TriMesh& fine) { return Coarsener(fine).run(); }

std::vector<Vec2> refine(const TriMesh& fine, const Coarsening& coarsening,
                         std::span<const Vec2> coarse_flat) {
  std::vector<Vec2> flat(fine.points.size());
  for (std::size_t i = 0; i < coarsening.kept.size(); ++i) {
    flat[coarsening.kept[i]] = coarse_flat[i];
  }
  const VertexTriangles stars = triangles_at_vertices(fine.triangles, fine.points.size());
  for (const Coarsening::Removed& r : coarsening.removed) {
    const auto ring = std::span(coarsening.parents).subspan(r.first_parent, r.parent_count);
    const auto weights = std::span(coarsening.weights).subspan(r.first_parent, r.parent_count);
    Vec2 place;
    Vec2 middle;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      place += weights[i] * flat[ring[i]];
      middle += flat[ring[i]] / static_cast<double>(ring.size());
    }
    flat[r.vertex] = place;
    const auto star = stars.at(r.vertex);
    // Near the target, inside the angle that the fan spans there, no triangle can flip.
    const Vec2 target = flat[r.target];
    const std::size_t w =
        static_cast<std::size_t>(std::find(ring.begin(), ring.end(), r.target) - ring.begin());
    const Vec2 after = flat[ring[(w + 1) % ring.size()]] - target;
    const Vec2 before = flat[ring[(w + ring.size() - 1) % ring.size()]] - target;
    const Vec2 bisector = after / length(after) + before / length(before);
    const double reach = std::min(length(after), length(before));
    const Vec2 inward = (cross(after, before) > 0 ? reach : -reach) * bisector;
    double share = 0.5;
    if (!star_is_upright(fine, star, flat)) flat[r.vertex] = middle;
    for (int i = 0; i < 60 && !star_is_upright(fine, star, flat); ++i, share /= 2) {
      flat[r.vertex] = target + share * inward;
    }
  }
  return flat;
}

Eigen::VectorXd restricted(const Coarsening& step, Eigen::VectorXd fine) {
  for (const Coarsening::Removed& r : step.removed) {
    const Eigen::Vector2d value = fine.segment<2>(2 * static_cast<Eigen::Index>(r.vertex));
    for (std::uint32_t i = r.first_parent; i < r.first_parent + r.parent_count; ++i) {
      fine.segment<2>(2 * static_cast<Eigen::Index>(step.parents[i])) += step.weights[i] * value;
    }
  }
  Eigen::VectorXd coarse(2 * static_cast<Eigen::Index>(step.kept.size()));
  for (std::size_t i = 0; i < step.kept.size(); ++i) {
    coarse.segment<2>(2 * static_cast<Eigen::Index>(i)) =
        fine.segment<2>(2 * static_cast<Eigen::Index>(step.kept[i]));
  }
  return coarse;
}

Eigen::VectorXd prolonged(const Coarsening& step, const Eigen::VectorXd& coarse) {
  const auto count = static_cast<Eigen::Index>(step.kept.size() + step.removed.size());
  Eigen::VectorXd fine(2 * count);
  for (std::size_t i = 0; i < step.kept.size(); ++i) {
    fine.segment<2>(2 * static_cast<Eigen::Index>(step.kept[i])) =
        coarse.segment<2>(2 * static_cast<Eigen::Index>(i));
  }
  for (const Coarsening::Removed& r : step.removed) {
    Eigen::Vector2d value = Eigen::Vector2d::Zero();
    for (std::uint32_t i = r.first_parent; i < r.first_parent + r.parent_count; ++i) {
      value += step.weights[i] * fine.segment<2>(2 * static_cast<Eigen::Index>(step.parents[i]));
    }
    fine.segment<2>(2 * static_cast<Eigen::Index>(r.vertex)) = value;
  }
  return fine;
}

std::vector<Vec2> kept_of(const Coarsening& step, std::span<const Vec2> fine) {
  std::vector<Vec2> kept;
  kept.reserve(step.kept.size());
  for (const VertexIndex v : step.kept) kept.push_back(fine[v]);
  return kept;
}

}  // namespace film::surface::detail
