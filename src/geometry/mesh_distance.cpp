#include "geometry/mesh_distance.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>
#include <vector>

namespace film {

// Regions of the plane of the triangle: corners, sides, inside.
// Source: C. Ericson, Real-Time Collision Detection, 2005, section 5.1.5 (the case distinction).
Vec3 nearest_on_triangle(Vec3 p, Vec3 a, Vec3 b, Vec3 c) {
  const Vec3 ab = b - a;
  const Vec3 ac = c - a;
  const double d1 = dot(ab, p - a);
  const double d2 = dot(ac, p - a);
  if (d1 <= 0 && d2 <= 0) return a;
  const double d3 = dot(ab, p - b);
  const double d4 = dot(ac, p - b);
  if (d3 >= 0 && d4 <= d3) return b;
  const double d5 = dot(ab, p - c);
  const double d6 = dot(ac, p - c);
  if (d6 >= 0 && d5 <= d6) return c;
  const double wc = d1 * d4 - d3 * d2;
  if (wc <= 0 && d1 >= 0 && d3 <= 0) return a + (d1 / (d1 - d3)) * ab;
  const double wb = d5 * d2 - d1 * d6;
  if (wb <= 0 && d2 >= 0 && d6 <= 0) return a + (d2 / (d2 - d6)) * ac;
  const double wa = d3 * d6 - d5 * d4;
  if (wa <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    return b + ((d4 - d3) / ((d4 - d3) + (d5 - d6))) * (c - b);
  }
  return a + (wb / (wa + wb + wc)) * ab + (wc / (wa + wb + wc)) * ac;
}

/// Boxes about boxes, halved at the median along the longer way.
struct NearestTriangle::Tree {
  struct Node {
    Vec3 low, high;
    std::uint32_t first, count;  // of `order`, when a leaf
    std::uint32_t left, right;   // when count is 0
  };
  static constexpr std::uint32_t kLeaf = 4;

  explicit Tree(const TriMesh& m) : mesh(m), order(m.triangles.size()) {
    std::iota(order.begin(), order.end(), 0u);
    middles.reserve(order.size());
    for (const Triangle& t : mesh.triangles) {
      middles.push_back(mesh.points[t[0]] + mesh.points[t[1]] + mesh.points[t[2]]);
    }
    nodes.reserve(order.size());
    build(0, static_cast<std::uint32_t>(order.size()));
  }

  std::uint32_t build(std::uint32_t first, std::uint32_t last) {
    constexpr double kFar = std::numeric_limits<double>::infinity();
    Node node{{kFar, kFar, kFar}, {-kFar, -kFar, -kFar}, first, last - first, 0, 0};
    for (std::uint32_t i = first; i < last; ++i) {
      for (const VertexIndex v : mesh.triangles[order[i]]) {
        const Vec3 p = mesh.points[v];
        node.low = {std::min(node.low.x, p.x), std::min(node.low.y, p.y),
                    std::min(node.low.z, p.z)};
        node.high = {std::max(node.high.x, p.x), std::max(node.high.y, p.y),
                     std::max(node.high.z, p.z)};
      }
    }
    const auto index = static_cast<std::uint32_t>(nodes.size());
    nodes.push_back(node);
    if (node.count <= kLeaf) return index;
    const Vec3 size = node.high - node.low;
    const auto along = [&](Vec3 p) {
      return size.x >= size.y && size.x >= size.z ? p.x : size.y >= size.z ? p.y : p.z;
    };
    const std::uint32_t half = first + node.count / 2;
    std::nth_element(order.begin() + first, order.begin() + half, order.begin() + last,
                     [&](std::uint32_t a, std::uint32_t b) {
                       const double x = along(middles[a]);
                       const double y = along(middles[b]);
                       return x != y ? x < y : a < b;
                     });
    const std::uint32_t left = build(first, half);
    const std::uint32_t right = build(half, last);
    nodes[index].count = 0;
    nodes[index].left = left;
    nodes[index].right = right;
    return index;
  }

  [[nodiscard]] double squared_to_box(Vec3 p, const Node& n) const {
    const auto off = [](double x, double low, double high) {
      return x < low ? low - x : x > high ? x - high : 0;
    };
    return squared_length(Vec3{off(p.x, n.low.x, n.high.x), off(p.y, n.low.y, n.high.y),
                               off(p.z, n.low.z, n.high.z)});
  }

  void search(std::uint32_t index, Vec3 p, Hit& best) const {
    const Node& node = nodes[index];
    if (node.count > 0) {
      for (std::uint32_t i = node.first; i < node.first + node.count; ++i) {
        const double d = squared_to(order[i], p);
        if (d < best.distance) best = {order[i], d};
      }
      return;
    }
    const double left = squared_to_box(p, nodes[node.left]);
    const double right = squared_to_box(p, nodes[node.right]);
    const bool left_first = left <= right;
    if (std::min(left, right) < best.distance) search(left_first ? node.left : node.right, p, best);
    if (std::max(left, right) < best.distance) search(left_first ? node.right : node.left, p, best);
  }

  [[nodiscard]] double squared_to(std::uint32_t triangle, Vec3 p) const {
    const Triangle& t = mesh.triangles[triangle];
    return squared_length(
        p - nearest_on_triangle(p, mesh.points[t[0]], mesh.points[t[1]], mesh.points[t[2]]));
  }

  const TriMesh& mesh;
  std::vector<std::uint32_t> order;
  std::vector<Vec3> middles;
  std::vector<Node> nodes;
};

NearestTriangle::NearestTriangle(const TriMesh& mesh) : tree_(std::make_unique<Tree>(mesh)) {}
NearestTriangle::~NearestTriangle() = default;

NearestTriangle::Hit NearestTriangle::find(Vec3 p) const {
  Hit best{0, std::numeric_limits<double>::infinity()};
  tree_->search(0, p, best);
  best.distance = std::sqrt(best.distance);
  return best;
}

namespace {

/// From the points of one mesh to the other.
class OneWay {
 public:
  OneWay(const TriMesh& from, const TriMesh& to, double tolerance, MeshDistance& result)
      : from_(from), to_(to), nearest_(to), tolerance_(tolerance), result_(result) {}

  void run() {
    std::vector<NearestTriangle::Hit> hits;
    hits.reserve(from_.points.size());
    for (const Vec3& p : from_.points) hits.push_back(nearest_.find(p));
    for (const Triangle& t : from_.triangles) {
      for (const VertexIndex v : t) result_.least = std::max(result_.least, hits[v].distance);
    }
    for (const Triangle& t : from_.triangles) {
      bound({from_.points[t[0]], from_.points[t[1]], from_.points[t[2]]}, 0);
    }
  }

 private:
  /// A convex part of a triangle.
  using Part = std::vector<Vec3>;
  static constexpr int kGreatestDepth = 40;

  [[nodiscard]] double greatest_to(const Part& part, std::uint32_t triangle) const {
    const Triangle& t = to_.triangles[triangle];
    double greatest = 0;
    for (const Vec3 p : part) {
      greatest =
          std::max(greatest, distance(p, nearest_on_triangle(p, to_.points[t[0]], to_.points[t[1]],
                                                             to_.points[t[2]])));
    }
    return greatest;
  }

  void bound(Part part, int depth) {
    Vec3 middle;
    for (const Vec3 p : part) middle += p / static_cast<double>(part.size());
    const NearestTriangle::Hit hit = nearest_.find(middle);
    result_.least = std::max(result_.least, hit.distance);
    const double greatest = greatest_to(part, hit.triangle);
    const double enough =
        std::max({result_.greatest, result_.least + tolerance_, 1.01 * result_.least});
    if (greatest <= enough || depth == kGreatestDepth) {
      result_.greatest = std::max(result_.greatest, greatest);
      return;
    }
    // Where the part passes the sides of the triangle nearest to its middle, another is nearer.
    const Triangle& t = to_.triangles[hit.triangle];
    const Vec3 normal = area_vector(to_, t);
    bool split = false;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 start = to_.points[t[k]];
      const Vec3 outward = cross(to_.points[t[(k + 1) % 3]] - start, normal);
      Part outside = clip(part, start, outward);
      Part inside = clip(part, start, -outward);
      if (outside.size() < 3 || inside.size() < 3) continue;
      split = true;
      bound(std::move(outside), depth + 1);
      part = std::move(inside);
    }
    if (!split) {
      const auto [start, along] = longest_side(part);
      const Vec3 half = start + 0.5 * along;
      bound(clip(part, half, along), depth + 1);
      part = clip(part, half, -along);
    }
    bound(std::move(part), depth + 1);
  }

  /// What of a convex part lies on the side of a plane to which its normal points.
  static Part clip(const Part& part, Vec3 on_plane, Vec3 normal) {
    Part result;
    const double slack = 1e-12 * length(normal);
    for (std::size_t i = 0; i < part.size(); ++i) {
      const Vec3 a = part[i];
      const Vec3 b = part[(i + 1) % part.size()];
      const double da = dot(normal, a - on_plane);
      const double db = dot(normal, b - on_plane);
      if (da >= 0) result.push_back(a);
      if ((da > slack && db < -slack) || (da < -slack && db > slack)) {
        result.push_back(a + (da / (da - db)) * (b - a));
      }
    }
    return result;
  }

  static std::pair<Vec3, Vec3> longest_side(const Part& part) {
    std::pair<Vec3, Vec3> longest{part[0], part[1] - part[0]};
    for (std::size_t i = 1; i < part.size(); ++i) {
      const Vec3 side = part[(i + 1) % part.size()] - part[i];
      if (squared_length(side) > squared_length(longest.second)) longest = {part[i], side};
    }
    return longest;
  }

  const TriMesh& from_;
  const TriMesh& to_;
  NearestTriangle nearest_;
  double tolerance_;
  MeshDistance& result_;
};

}  // namespace

MeshDistance mesh_distance(const TriMesh& a, const TriMesh& b, double tolerance) {
  MeshDistance result;
  OneWay(a, b, tolerance, result).run();
  OneWay(b, a, tolerance, result).run();
  return result;
}

}  // namespace film
