#include "surface/decimate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <limits>
#include <optional>
#include <queue>
#include <tuple>
#include <utility>

#include "geometry/mesh_distance.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

/// Weight of a plane that stands on a boundary edge against those of the triangles.
constexpr double kBoundaryWeight = 4;
/// Cosine of the most that a triangle may turn.
constexpr double kLeastCosine = 0.7071067811865476;
/// Height over longest side below which no new triangle is made.
constexpr double kLeastHeight = 0.02;

/// Weighted sum of squared distances to planes, as a symmetric 4x4 form.
struct Quadric {
  std::array<double, 10> q{};  // xx xy xz x yy yz y zz z 1
  double weight = 0;

  void add_plane(Vec3 n, double d, double w) {
    const std::array<double, 10> plane{n.x * n.x, n.x * n.y, n.x * n.z, n.x * d, n.y * n.y,
                                       n.y * n.z, n.y * d,   n.z * n.z, n.z * d, d * d};
    for (std::size_t i = 0; i < q.size(); ++i) q[i] += w * plane[i];
    weight += w;
  }
  Quadric& operator+=(const Quadric& other) {
    for (std::size_t i = 0; i < q.size(); ++i) q[i] += other.q[i];
    weight += other.weight;
    return *this;
  }
  /// Mean squared distance of p to the planes.
  [[nodiscard]] double at(Vec3 p) const {
    const double sum = q[0] * p.x * p.x + q[4] * p.y * p.y + q[7] * p.z * p.z + q[9] +
                       2 * (q[1] * p.x * p.y + q[2] * p.x * p.z + q[5] * p.y * p.z + q[3] * p.x +
                            q[6] * p.y + q[8] * p.z);
    return weight > 0 ? std::max(sum, 0.0) / weight : 0;
  }
};

class Decimator {
 public:
  explicit Decimator(const TriMesh& mesh)
      : points_(mesh.points),
        triangles_(mesh.triangles),
        alive_(mesh.triangles.size(), 1),
        removed_(mesh.triangles.size()),
        fans_(mesh.points.size()),
        quadrics_(mesh.points.size()),
        on_boundary_(mesh.points.size(), 0),
        version_(mesh.points.size(), 0) {
    for (std::uint32_t t = 0; t < triangles_.size(); ++t) {
      for (const VertexIndex v : triangles_[t]) fans_[v].push_back(t);
    }
    make_quadrics();
  }

  /// Draws edges together while every vertex taken out stays within `limit` of the surface, mm.
  Result<void> run(double limit, const Context& context) {
    limit_ = limit;
    for (VertexIndex v = 0; v < points_.size(); ++v) push_edges_of(v);
    std::size_t steps = 0;
    while (!queue_.empty()) {
      if (++steps % 4096 == 0 && context.stopped()) {
        return fail(ErrorCode::cancelled, "stopped while taking triangles out");
      }
      const Candidate next = queue_.top();
      queue_.pop();
      if (next.cost > limit * limit) break;
      if (next.stamp != version_[next.from] + version_[next.onto]) continue;
      if (!may_collapse(next.from, next.onto)) continue;
      if (auto moved = new_places(next.from, next.onto)) {
        collapse(next.from, next.onto, *moved);
      }
    }
    return {};
  }

  Decimated result() const {
    Decimated made;
    constexpr VertexIndex kNone = std::numeric_limits<VertexIndex>::max();
    std::vector<VertexIndex> number(points_.size(), kNone);
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      if (!alive_[t]) continue;
      for (const VertexIndex v : triangles_[t]) number[v] = 0;
    }
    for (VertexIndex v = 0; v < points_.size(); ++v) {
      if (number[v] == kNone) continue;
      number[v] = static_cast<VertexIndex>(made.mesh.points.size());
      made.mesh.points.push_back(points_[v]);
      made.source_vertex.push_back(v);
    }
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      if (!alive_[t]) continue;
      const Triangle& c = triangles_[t];
      made.mesh.triangles.push_back({number[c[0]], number[c[1]], number[c[2]]});
    }
    return made;
  }

 private:
  struct Candidate {
    double cost;
    VertexIndex from, onto;
    std::uint32_t stamp;
    friend bool operator<(const Candidate& a, const Candidate& b) {  // for a queue, least first
      return std::tie(b.cost, b.from, b.onto) < std::tie(a.cost, a.from, a.onto);
    }
  };

  [[nodiscard]] Vec3 area_of(const Triangle& t) const {
    return cross(points_[t[1]] - points_[t[0]], points_[t[2]] - points_[t[0]]);
  }

  void make_quadrics() {
    const auto across = detail::sides_across(triangles_, points_.size());
    for (std::uint32_t t = 0; t < triangles_.size(); ++t) {
      const Vec3 twice = area_of(triangles_[t]);
      const double area = length(twice) / 2;
      const Vec3 n = twice / (2 * area);
      for (const VertexIndex v : triangles_[t]) {
        quadrics_[v].add_plane(n, -dot(n, points_[v]), area);
      }
      for (detail::SideIndex s = 3 * t; s < 3 * t + 3; ++s) {
        if (across[s] != detail::kNoSide) continue;
        const VertexIndex a = detail::start_of(triangles_, s);
        const VertexIndex b = detail::end_of(triangles_, s);
        const Vec3 side = points_[b] - points_[a];
        const Vec3 upright = cross(side, n) / length(side);
        for (const VertexIndex v : {a, b}) {
          quadrics_[v].add_plane(upright, -dot(upright, points_[a]), kBoundaryWeight * area);
          on_boundary_[v] = 1;
        }
      }
    }
  }

  [[nodiscard]] std::vector<VertexIndex> ring_of(VertexIndex v) const {
    std::vector<VertexIndex> ring;
    for (const std::uint32_t t : fans_[v]) {
      for (const VertexIndex w : triangles_[t]) {
        if (w != v) ring.push_back(w);
      }
    }
    std::sort(ring.begin(), ring.end());
    ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
    return ring;
  }

  void push(VertexIndex from, VertexIndex onto) {
    if (on_boundary_[from] && !on_boundary_[onto]) return;
    Quadric sum = quadrics_[from];
    sum += quadrics_[onto];
    queue_.push({sum.at(points_[onto]), from, onto, version_[from] + version_[onto]});
  }

  void push_edges_of(VertexIndex v) {
    for (const VertexIndex w : ring_of(v)) push(v, w);
  }

  /// Link condition, boundary along itself, no turned or squashed triangle.
  [[nodiscard]] bool may_collapse(VertexIndex from, VertexIndex onto) const {
    std::size_t shared_triangles = 0;
    for (const std::uint32_t t : fans_[from]) {
      const Triangle& c = triangles_[t];
      shared_triangles += c[0] == onto || c[1] == onto || c[2] == onto ? 1u : 0u;
    }
    if (shared_triangles == 0) return false;
    if (on_boundary_[from] && shared_triangles != 1) return false;
    const std::vector<VertexIndex> a = ring_of(from);
    const std::vector<VertexIndex> b = ring_of(onto);
    std::vector<VertexIndex> both;
    std::set_intersection(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(both));
    if (both.size() != shared_triangles) return false;
    if (fans_[from].size() == shared_triangles) return false;  // nothing would be left of the fan
    for (const std::uint32_t t : fans_[from]) {
      Triangle moved = triangles_[t];
      if (moved[0] == onto || moved[1] == onto || moved[2] == onto) continue;
      const Vec3 before = area_of(moved);
      for (VertexIndex& v : moved) v = v == from ? onto : v;
      const Vec3 after = area_of(moved);
      if (dot(before, after) < kLeastCosine * length(before) * length(after)) return false;
      double longest = 0;
      for (std::size_t k = 0; k < 3; ++k) {
        longest =
            std::max(longest, squared_length(points_[moved[k]] - points_[moved[(k + 1) % 3]]));
      }
      if (length(after) < kLeastHeight * longest) return false;
    }
    return true;
  }

  using Places = std::vector<std::pair<VertexIndex, std::uint32_t>>;

  /// For each point that lay near the fan, and the fan's own middle, the triangle near which it
  /// will lie; nothing if one would lie too far off.
  [[nodiscard]] std::optional<Places> new_places(VertexIndex from, VertexIndex onto) const {
    Places places{{from, 0}};
    std::vector<std::pair<std::uint32_t, Triangle>> fan;
    for (const std::uint32_t t : fans_[from]) {
      for (const VertexIndex p : removed_[t]) places.emplace_back(p, 0);
      Triangle moved = triangles_[t];
      if (moved[0] == onto || moved[1] == onto || moved[2] == onto) continue;
      for (VertexIndex& v : moved) v = v == from ? onto : v;
      fan.emplace_back(t, moved);
    }
    for (auto& [point, triangle] : places) {
      double least = std::numeric_limits<double>::infinity();
      for (const auto& [t, c] : fan) {
        const Vec3 p = points_[point];
        const double d =
            distance(p, nearest_on_triangle(p, points_[c[0]], points_[c[1]], points_[c[2]]));
        if (d < least) {
          least = d;
          triangle = t;
        }
      }
      if (least > limit_) return std::nullopt;
    }
    return places;
  }

  void collapse(VertexIndex from, VertexIndex onto, const Places& places) {
    for (const std::uint32_t t : fans_[from]) removed_[t].clear();
    for (const auto& [point, triangle] : places) removed_[triangle].push_back(point);
    for (const std::uint32_t t : fans_[from]) {
      Triangle& c = triangles_[t];
      if (c[0] == onto || c[1] == onto || c[2] == onto) {
        alive_[t] = 0;
        for (const VertexIndex v : c) {
          if (v != from) std::erase(fans_[v], t);
        }
        continue;
      }
      for (VertexIndex& v : c) v = v == from ? onto : v;
      fans_[onto].push_back(t);
    }
    fans_[from].clear();
    quadrics_[onto] += quadrics_[from];
    ++version_[from];
    ++version_[onto];
    for (const VertexIndex w : ring_of(onto)) {
      push(onto, w);
      push(w, onto);
    }
  }

  double limit_ = 0;
  std::vector<Vec3> points_;
  std::vector<Triangle> triangles_;
  std::vector<char> alive_;
  std::vector<std::vector<VertexIndex>> removed_;  // for each triangle, points that lay near it
  std::vector<std::vector<std::uint32_t>> fans_;
  std::vector<Quadric> quadrics_;
  std::vector<char> on_boundary_;
  std::vector<std::uint32_t> version_;
  std::priority_queue<Candidate> queue_;
};

}  // namespace

Result<Decimated> decimate(const TriMesh& mesh, Mm within, const Context& context) {
  context.report("taking triangles out", -1);
  // Between the vertices the surfaces may lie farther apart: when they do, less is asked for.
  double limit = 0.9 * within.value;
  for (int round = 0; round < 8; ++round, limit *= 0.7) {
    Decimator decimator(mesh);
    if (auto step = decimator.run(limit, context); !step) return Failure(step.error());
    Decimated result = decimator.result();
    result.error = Mm{mesh_distance(mesh, result.mesh, within.value / 20).greatest};
    if (result.error.value <= within.value) return result;
    if (context.stopped()) return fail(ErrorCode::cancelled, "stopped while taking triangles out");
  }
  Decimated same{mesh, std::vector<VertexIndex>(mesh.points.size()), Mm{0}};
  for (VertexIndex v = 0; v < mesh.points.size(); ++v) same.source_vertex[v] = v;
  return same;
}

}  // namespace film::surface
