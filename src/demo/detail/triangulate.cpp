#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>

#include "demo/detail/sheet.h"
#include "geometry/predicates.h"

namespace film::demo {
namespace {

constexpr int kNone = -1;
constexpr double kOnSkin = 1e-6;  // mm

struct Vertex {
  Vec2 q;  ///< in the chart
  double depth = 0;
  Vec3 p;  ///< on the skin
  Vec3 normal;
  double slope = 1;  ///< of the skin's distance along the ray
  double size = 0;   ///< wanted edge length here
  bool fixed = false;
};

struct Face {
  std::array<int, 3> v;
  std::array<int, 3> next;  ///< the face across the edge that faces v[i], or kNone
};

/// A triangulation that stays without flips in its chart while it is refined.
class Sheet {
 public:
  Sheet(const Field& skin, const Chart& chart, const MeshOptions& options)
      : skin_(skin), chart_(chart), options_(options) {}

  void start(const std::vector<std::vector<Vec3>>& loops);
  void refine();
  [[nodiscard]] TriMesh mesh() const;

 private:
  void add_loop(const std::vector<Vec3>& loop);
  void clip_ears(std::vector<int> ring);
  void link();
  void bridge(std::vector<int>& ring, const std::vector<int>& hole) const;
  void lift(Vertex& vertex) const;
  void look(Vertex& vertex) const;
  [[nodiscard]] double size_at(Vec3 p) const;
  bool split_long_edges();
  void split(int face, int i, double part);
  bool may_flip(int face, int i) const;
  void flip(int face, int i);
  void flip_to_delaunay(bool in_chart);
  void smooth();
  [[nodiscard]] int index_in(int face, int of) const {
    const auto& next = faces_[static_cast<std::size_t>(face)].next;
    return next[0] == of ? 0 : next[1] == of ? 1 : 2;
  }
  Face& face(int i) { return faces_[static_cast<std::size_t>(i)]; }
  [[nodiscard]] const Face& face(int i) const { return faces_[static_cast<std::size_t>(i)]; }
  Vertex& at(int i) { return vertices_[static_cast<std::size_t>(i)]; }
  [[nodiscard]] const Vertex& at(int i) const { return vertices_[static_cast<std::size_t>(i)]; }
  void relink(int face_index, int was, int is) {
    if (face_index == kNone) return;
    for (int& n : face(face_index).next) {
      if (n == was) {
        n = is;
        return;
      }
    }
  }

  const Field& skin_;
  const Chart& chart_;
  const MeshOptions& options_;
  std::vector<Vertex> vertices_;
  std::vector<Face> faces_;
  std::vector<int> fine_rim_;  ///< boundary vertices that want shorter edges than the inside
};

void Sheet::add_loop(const std::vector<Vec3>& loop) {
  const std::size_t n = loop.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3 p = loop[i];
    const double near = 0.5 * (distance(p, loop[(i + 1) % n]) + distance(p, loop[(i + n - 1) % n]));
    Vertex vertex;
    vertex.q = chart_.at(p);
    vertex.depth = chart_.depth(p);
    vertex.p = p;
    vertex.size = std::fmin(options_.edge, 1.2 * near);
    vertex.fixed = true;
    look(vertex);
    if (vertex.size < 0.95 * options_.edge) fine_rim_.push_back(static_cast<int>(vertices_.size()));
    vertices_.push_back(vertex);
  }
}

void Sheet::bridge(std::vector<int>& ring, const std::vector<int>& hole) const {
  // The pair of vertices that see each other at the least distance.
  std::vector<std::array<int, 2>> pairs;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    for (std::size_t j = 0; j < hole.size(); ++j) {
      pairs.push_back({static_cast<int>(i), static_cast<int>(j)});
    }
  }
  const auto away = [&](const std::array<int, 2>& pair) {
    return squared_length(at(ring[static_cast<std::size_t>(pair[0])]).q -
                          at(hole[static_cast<std::size_t>(pair[1])]).q);
  };
  const auto best = *std::min_element(
      pairs.begin(), pairs.end(), [&](const auto& a, const auto& b) { return away(a) < away(b); });
  std::vector<int> way(hole.begin() + best[1], hole.end());
  way.insert(way.end(), hole.begin(), hole.begin() + best[1] + 1);
  way.push_back(ring[static_cast<std::size_t>(best[0])]);
  ring.insert(ring.begin() + best[0] + 1, way.begin(), way.end());
}

void Sheet::clip_ears(std::vector<int> ring) {
  const auto q = [&](int v) { return at(v).q; };
  const auto is_ear = [&](std::size_t i) {
    const std::size_t n = ring.size();
    const int a = ring[(i + n - 1) % n], b = ring[i], c = ring[(i + 1) % n];
    if (orientation(q(a), q(b), q(c)) <= 0) return false;
    for (int v : ring) {
      const Vec2 p = q(v);
      if (p == q(a) || p == q(b) || p == q(c)) continue;
      if (orientation(q(a), q(b), p) >= 0 && orientation(q(b), q(c), p) >= 0 &&
          orientation(q(c), q(a), p) >= 0) {
        return false;
      }
    }
    return true;
  };
  std::size_t i = 0, misses = 0;
  while (ring.size() > 3 && misses <= ring.size()) {
    const std::size_t n = ring.size();
    i %= n;
    if (is_ear(i)) {
      faces_.push_back({{ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]}, {}});
      ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(i));
      misses = 0;
      ++i;  // turns about, so that ears do not all meet in one vertex
    } else {
      ++i;
      ++misses;
    }
  }
  if (ring.size() == 3) faces_.push_back({{ring[0], ring[1], ring[2]}, {}});
}

void Sheet::link() {
  std::map<std::pair<int, int>, std::pair<int, int>> open;
  for (int f = 0; f < static_cast<int>(faces_.size()); ++f) {
    for (int i = 0; i < 3; ++i) {
      const auto k = static_cast<std::size_t>(i);
      face(f).next[k] = kNone;
      const int a = face(f).v[(k + 1) % 3], b = face(f).v[(k + 2) % 3];
      if (const auto other = open.find({b, a}); other != open.end()) {
        const auto [g, j] = other->second;
        face(f).next[k] = g;
        face(g).next[static_cast<std::size_t>(j)] = f;
      } else {
        open[{a, b}] = {f, i};
      }
    }
  }
}

void Sheet::start(const std::vector<std::vector<Vec3>>& loops) {
  std::vector<int> ring;
  for (const auto& loop : loops) {
    std::vector<int> indices(loop.size());
    std::iota(indices.begin(), indices.end(), static_cast<int>(vertices_.size()));
    add_loop(loop);
    if (ring.empty()) {
      ring = indices;
    } else {
      bridge(ring, indices);
    }
  }
  clip_ears(ring);
  link();
  flip_to_delaunay(true);
}

/// Finds the skin on the ray through the vertex's chart position, near its depth.
void Sheet::lift(Vertex& vertex) const {
  const auto f = [&](double depth) { return skin_(chart_.point(vertex.q, depth)); };
  double t = vertex.depth, value = f(t), slope = vertex.slope;
  bool found = std::fabs(value) < kOnSkin;
  for (int i = 0; i < 12 && !found && slope > 0.1; ++i) {
    const double move = std::clamp(-value / slope, -40.0, 40.0);
    const double next = f(t + move);
    if (std::fabs(move) > 1e-9) slope = (next - value) / move;
    t += move;
    value = next;
    found = std::fabs(value) < kOnSkin;
  }
  if (!found) {  // from outside inwards
    t = vertex.depth + 200;
    for (int i = 0; i < 400; ++i) {
      value = f(t);
      if (std::fabs(value) < kOnSkin) break;
      t -= value > 0 ? 0.5 * value : value;
    }
  }
  vertex.depth = t;
  vertex.p = chart_.point(vertex.q, t);
}

/// Normal of the skin at the vertex, and how fast the skin's distance grows along its ray.
void Sheet::look(Vertex& vertex) const {
  const Vec3 g = gradient(skin_, vertex.p);
  vertex.normal = g / std::fmax(length(g), 1e-9);
  vertex.slope = dot(g, chart_.point(vertex.q, vertex.depth + 1) - vertex.p);
}

/// Wanted edge length: that of the boundary near by, growing away from it.
double Sheet::size_at(Vec3 p) const {
  constexpr double kGrowth = 0.35;
  double size = options_.edge;
  for (int v : fine_rim_) size = std::fmin(size, at(v).size + kGrowth * distance(p, at(v).p));
  return size;
}

void Sheet::split(int t, int i, double part) {
  const auto k = static_cast<std::size_t>(i);
  const int a = face(t).v[k], b = face(t).v[(k + 1) % 3], c = face(t).v[(k + 2) % 3];
  const int nb = face(t).next[(k + 1) % 3], nc = face(t).next[(k + 2) % 3];
  const int u = face(t).next[k];
  const auto j = static_cast<std::size_t>(index_in(u, t));
  const int d = face(u).v[j];
  const int uc = face(u).next[(j + 1) % 3], ub = face(u).next[(j + 2) % 3];  // facing c and b

  Vertex middle;
  middle.q = (1 - part) * at(b).q + part * at(c).q;
  middle.depth = (1 - part) * at(b).depth + part * at(c).depth;
  middle.slope = 0.5 * (at(b).slope + at(c).slope);
  lift(middle);
  look(middle);
  middle.size = size_at(middle.p);
  const int m = static_cast<int>(vertices_.size());
  vertices_.push_back(middle);

  const int t2 = static_cast<int>(faces_.size()), u2 = t2 + 1;
  face(t) = {{a, b, m}, {u, t2, nc}};
  face(u) = {{d, m, b}, {t, uc, u2}};
  faces_.push_back({{a, m, c}, {u2, nb, t}});
  faces_.push_back({{d, c, m}, {t2, u, ub}});
  relink(nb, t, t2);
  relink(ub, u, u2);
}

bool Sheet::split_long_edges() {
  struct Long {
    double excess;
    int face, b, c;
  };
  std::vector<Long> edges;
  for (int t = 0; t < static_cast<int>(faces_.size()); ++t) {
    for (std::size_t k = 0; k < 3; ++k) {
      const int u = face(t).next[k];
      if (u <= t) continue;
      const int b = face(t).v[(k + 1) % 3], c = face(t).v[(k + 2) % 3];
      const Vertex &vb = at(b), &vc = at(c);
      const double edge = distance(vb.p, vc.p);
      const double wanted = 1.35 * 0.5 * (vb.size + vc.size);
      const double bend = std::acos(std::clamp(dot(vb.normal, vc.normal), -1.0, 1.0));
      double excess = edge / wanted;
      if (edge > options_.least) {
        excess =
            std::fmax(excess, std::fmax(edge * bend / 8 / options_.chord, bend / options_.turn));
      }
      if (excess > 1) edges.push_back({excess, t, b, c});
    }
  }
  std::stable_sort(edges.begin(), edges.end(),
                   [](const Long& x, const Long& y) { return x.excess > y.excess; });
  bool any = false;
  for (const Long& e : edges) {
    for (std::size_t k = 0; k < 3; ++k) {
      const Face& f = face(e.face);
      if (f.v[(k + 1) % 3] == e.b && f.v[(k + 2) % 3] == e.c && f.next[k] != kNone) {
        split(e.face, static_cast<int>(k), 0.5);
        any = true;
        break;
      }
    }
  }
  return any;
}

bool Sheet::may_flip(int t, int i) const {
  const auto k = static_cast<std::size_t>(i);
  const int u = face(t).next[k];
  if (u == kNone) return false;
  const auto j = static_cast<std::size_t>(index_in(u, t));
  const Vec2 a = at(face(t).v[k]).q, b = at(face(t).v[(k + 1) % 3]).q,
             c = at(face(t).v[(k + 2) % 3]).q, d = at(face(u).v[j]).q;
  return orientation(a, b, d) > 0 && orientation(a, d, c) > 0;
}

void Sheet::flip(int t, int i) {
  const auto k = static_cast<std::size_t>(i);
  const int a = face(t).v[k], b = face(t).v[(k + 1) % 3], c = face(t).v[(k + 2) % 3];
  const int nb = face(t).next[(k + 1) % 3], nc = face(t).next[(k + 2) % 3];
  const int u = face(t).next[k];
  const auto j = static_cast<std::size_t>(index_in(u, t));
  const int d = face(u).v[j];
  const int uc = face(u).next[(j + 1) % 3], ub = face(u).next[(j + 2) % 3];
  face(t) = {{a, b, d}, {uc, u, nc}};
  face(u) = {{a, d, c}, {ub, nb, t}};
  relink(uc, u, t);
  relink(nb, t, u);
}

/// Sine of the sum of the two angles that face an edge, from the lengths' products: negative when
/// they sum to more than half a turn.
template <class V>
double facing_sum(V a, V b, V c, V d) {
  const auto cos_sin = [](V at, V p, V q) {
    const V x = p - at, y = q - at;
    const double cosine = dot(x, y);
    return std::array{
        cosine, std::sqrt(std::fmax(0.0, squared_length(x) * squared_length(y) - cosine * cosine))};
  };
  const auto [ca, sa] = cos_sin(a, b, c);
  const auto [cd, sd] = cos_sin(d, b, c);
  return (sa * cd + ca * sd) / std::sqrt((ca * ca + sa * sa) * (cd * cd + sd * sd));
}

void Sheet::flip_to_delaunay(bool in_chart) {
  for (int sweep = 0; sweep < 12; ++sweep) {
    bool any = false;
    for (int t = 0; t < static_cast<int>(faces_.size()); ++t) {
      for (int i = 0; i < 3; ++i) {
        const auto k = static_cast<std::size_t>(i);
        const int u = face(t).next[k];
        if (u == kNone) continue;
        const auto j = static_cast<std::size_t>(index_in(u, t));
        const Vertex &a = at(face(t).v[k]), &b = at(face(t).v[(k + 1) % 3]),
                     &c = at(face(t).v[(k + 2) % 3]), &d = at(face(u).v[j]);
        const double sum =
            in_chart ? facing_sum(a.q, b.q, c.q, d.q) : facing_sum(a.p, b.p, c.p, d.p);
        if (sum < -1e-6 && may_flip(t, i)) {
          flip(t, i);
          any = true;
        }
      }
    }
    if (!any) break;
  }
}

void Sheet::smooth() {
  std::vector<std::vector<int>> round(vertices_.size());
  for (int t = 0; t < static_cast<int>(faces_.size()); ++t) {
    for (int v : face(t).v) round[static_cast<std::size_t>(v)].push_back(t);
  }
  for (std::size_t v = 0; v < vertices_.size(); ++v) {
    if (vertices_[v].fixed) continue;
    Vec2 sum;
    double weight = 0;
    for (int t : round[v]) {
      const auto& [a, b, c] = face(t).v;
      const double area = length(cross(at(b).p - at(a).p, at(c).p - at(a).p));
      sum += (area / 3) * (at(a).q + at(b).q + at(c).q);
      weight += area;
    }
    const Vertex before = vertices_[v];
    vertices_[v].q = sum / weight;
    bool good = true;
    for (int t : round[v]) {
      const auto& [a, b, c] = face(t).v;
      good = good && orientation(at(a).q, at(b).q, at(c).q) > 0;
    }
    if (good) {
      lift(vertices_[v]);
    } else {
      vertices_[v] = before;
    }
  }
}

void Sheet::refine() {
  for (int pass = 0; pass < 16; ++pass) {
    const bool any = split_long_edges();
    flip_to_delaunay(false);
    if (!any) break;
    smooth();
    flip_to_delaunay(false);
  }
  for (int pass = 0; pass < 2; ++pass) {
    smooth();
    flip_to_delaunay(false);
  }
}

TriMesh Sheet::mesh() const {
  TriMesh mesh;
  for (const Vertex& v : vertices_) mesh.points.push_back(v.p);
  for (const Face& f : faces_) {
    mesh.triangles.push_back({static_cast<VertexIndex>(f.v[0]), static_cast<VertexIndex>(f.v[1]),
                              static_cast<VertexIndex>(f.v[2])});
  }
  return mesh;
}

}  // namespace

TriMesh triangulated(const Field& skin, const std::vector<std::vector<Vec3>>& loops,
                     const Chart& chart, const MeshOptions& options) {
  Sheet sheet(skin, chart, options);
  sheet.start(loops);
  sheet.refine();
  return sheet.mesh();
}

}  // namespace film::demo
