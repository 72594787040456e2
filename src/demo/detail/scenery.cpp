#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

#include "demo/detail/body.h"
#include "demo/detail/design.h"

namespace film::demo {
namespace {

using shop::Finish;

/// The surface where a field is zero, by dividing a grid's cells into six tetrahedra each.
/// Source: A. Doi, A. Koide, "An efficient method of triangulating equi-valued surfaces by using
/// tetrahedral cells", IEICE Trans. E74(1), 1991.
class IsoSurface {
 public:
  IsoSurface(const Field& field, Vec3 low, Vec3 high, double cell) : low_(low), cell_(cell) {
    const auto count = [&](double a, double b) {
      return static_cast<int>(std::ceil((b - a) / cell));
    };
    nx_ = count(low.x, high.x);
    ny_ = count(low.y, high.y);
    nz_ = count(low.z, high.z);
    for (int k = 0; k <= nz_; ++k) {
      for (int j = 0; j <= ny_; ++j) {
        for (int i = 0; i <= nx_; ++i) value_.push_back(field(place(i, j, k)));
      }
    }
    for (int k = 0; k < nz_; ++k) {
      for (int j = 0; j < ny_; ++j) {
        for (int i = 0; i < nx_; ++i) divide(i, j, k);
      }
    }
  }
  TriMesh mesh;

 private:
  [[nodiscard]] Vec3 place(int i, int j, int k) const {
    return low_ + cell_ * Vec3{1.0 * i, 1.0 * j, 1.0 * k};
  }
  [[nodiscard]] int node(int i, int j, int k) const { return (k * (ny_ + 1) + j) * (nx_ + 1) + i; }
  [[nodiscard]] double value(int n) const { return value_[static_cast<std::size_t>(n)]; }
  [[nodiscard]] Vec3 place(int n) const {
    return place(n % (nx_ + 1), n / (nx_ + 1) % (ny_ + 1), n / ((nx_ + 1) * (ny_ + 1)));
  }

  void divide(int i, int j, int k) {
    std::array<int, 8> c{};
    bool in = false, out = false;
    for (int b = 0; b < 8; ++b) {
      const int n = node(i + (b & 1), j + (b >> 1 & 1), k + (b >> 2));
      c[static_cast<std::size_t>(b)] = n;
      (value(n) < 0 ? in : out) = true;
    }
    if (!in || !out) return;
    constexpr std::array<std::array<std::size_t, 2>, 6> kMiddle{
        {{1, 3}, {3, 2}, {2, 6}, {6, 4}, {4, 5}, {5, 1}}};
    for (const auto& [a, b] : kMiddle) cut({c[0], c[a], c[b], c[7]});
  }

  void cut(std::array<int, 4> t) {
    std::stable_partition(t.begin(), t.end(), [&](int n) { return value(n) < 0; });
    const auto inside = std::count_if(t.begin(), t.end(), [&](int n) { return value(n) < 0; });
    const Vec3 out = inside == 0 || inside == 4 ? Vec3{} : place(t[3]) - place(t[0]);
    if (inside == 1) face(point(t[0], t[1]), point(t[0], t[2]), point(t[0], t[3]), out);
    if (inside == 3) face(point(t[0], t[3]), point(t[1], t[3]), point(t[2], t[3]), out);
    if (inside == 2) {
      const auto a = point(t[0], t[2]), b = point(t[0], t[3]), c = point(t[1], t[3]),
                 d = point(t[1], t[2]);
      face(a, b, c, out);
      face(a, c, d, out);
    }
  }

  VertexIndex point(int a, int b) {
    if (a > b) std::swap(a, b);
    const auto [at, fresh] =
        points_.try_emplace({a, b}, static_cast<VertexIndex>(mesh.points.size()));
    if (fresh) {
      const double t = value(a) / (value(a) - value(b));
      mesh.points.push_back(place(a) + t * (place(b) - place(a)));
    }
    return at->second;
  }

  /// Adds a triangle that faces `out`, the direction from an inner to an outer node.
  void face(VertexIndex a, VertexIndex b, VertexIndex c, Vec3 out) {
    if (dot(area_vector(mesh, {a, b, c}), out) < 0) std::swap(b, c);
    mesh.triangles.push_back({a, b, c});
  }

  Vec3 low_;
  double cell_;
  int nx_ = 0, ny_ = 0, nz_ = 0;
  std::vector<double> value_;
  std::map<std::pair<int, int>, VertexIndex> points_;
};

/// Turns a profile (distance from the axle, offset outwards) about the axle. Corners sharper than
/// a right angle's third stay sharp.
TriMesh lathe(const std::vector<Vec2>& profile, int sides) {
  TriMesh mesh;
  for (std::size_t i = 0; i + 1 < profile.size(); ++i) {
    const auto base = static_cast<VertexIndex>(mesh.points.size());
    const bool joined = i > 0 && dot(profile[i] - profile[i - 1], profile[i + 1] - profile[i]) >
                                     0.8 * distance(profile[i], profile[i - 1]) *
                                         distance(profile[i + 1], profile[i]);
    const auto n = static_cast<VertexIndex>(sides);
    const auto ring = [&](Vec2 q) {
      for (int s = 0; s < sides; ++s) {
        const double angle = 2 * std::numbers::pi * s / sides;
        mesh.points.push_back({q.x * std::cos(angle), q.y, q.x * std::sin(angle)});
      }
    };
    if (!joined) ring(profile[i]);
    ring(profile[i + 1]);
    const VertexIndex from = joined ? base - n : base, to = from + n;
    for (VertexIndex s = 0; s < n; ++s) {
      const VertexIndex e = (s + 1) % n;
      mesh.triangles.push_back({from + s, to + e, to + s});
      mesh.triangles.push_back({from + s, from + e, to + e});
    }
  }
  return mesh;
}

void add(TriMesh& to, const TriMesh& from) {
  const auto base = static_cast<VertexIndex>(to.points.size());
  to.points.insert(to.points.end(), from.points.begin(), from.points.end());
  for (const Triangle& t : from.triangles)
    to.triangles.push_back({t[0] + base, t[1] + base, t[2] + base});
}

/// A bar with flat faces through four-cornered sections.
TriMesh bar(const std::vector<std::array<Vec3, 4>>& sections) {
  TriMesh mesh;
  const auto quad = [&](Vec3 a, Vec3 b, Vec3 c, Vec3 d) {
    const auto base = static_cast<VertexIndex>(mesh.points.size());
    mesh.points.insert(mesh.points.end(), {a, b, c, d});
    mesh.triangles.push_back({base, base + 1, base + 2});
    mesh.triangles.push_back({base, base + 2, base + 3});
  };
  for (std::size_t i = 0; i + 1 < sections.size(); ++i) {
    const auto &a = sections[i + 1], &b = sections[i];
    for (std::size_t k = 0; k < 4; ++k) quad(a[k], b[k], b[(k + 1) % 4], a[(k + 1) % 4]);
  }
  return mesh;
}

/// Rim of our own design: nine broad blades that lean the way the wheel rolls.
TriMesh rim() {
  TriMesh mesh =
      lathe({{236, -150}, {240, -60}, {247, -14}, {252, 8}, {262, 10}, {268, 2}, {262, -10}}, 96);
  for (int s = 0; s < 9; ++s) {
    const double turn = 2 * std::numbers::pi * s / 9;
    const auto at = [&](double radius, double aside, double out) {
      const double angle = turn + aside / radius + 0.0011 * (radius - 60);
      return Vec3{radius * std::cos(angle), out, radius * std::sin(angle)};
    };
    std::vector<std::array<Vec3, 4>> sections;
    for (double r = 40; r < 253; r += 13.25) {
      const double half = 13 + 0.105 * (r - 40), out = -6 - 22 * std::pow(1 - (r - 40) / 230, 2);
      sections.push_back({at(r, -half, out - 30), at(r, -half + 3, out), at(r, half - 3, out),
                          at(r, half, out - 30)});
    }
    add(mesh, bar(sections));
  }
  add(mesh, lathe({{0.5, -18}, {30, -18}, {34, -14}, {56, -18}, {62, -24}, {62, -60}}, 48));
  return mesh;
}

TriMesh tyre() {
  return lathe({{262, -12},
                {275, 2},
                {300, 8},
                {330, 6},
                {352, -4},
                {366, -20},
                {372, -40},
                {374, -80},
                {374, -150},
                {372, -190},
                {362, -212},
                {330, -226},
                {250, -222}},
               96);
}

TriMesh brake() {
  return lathe({{0.5, -80}, {60, -80}, {88, -80}, {90, -74}, {178, -74}, {180, -78}, {236, -150}},
               64);
}

TriMesh placed(TriMesh mesh, double x, double y, double side) {
  for (Vec3& p : mesh.points) p = {x + p.x, side * (y + p.y), kTyreRadius + p.z};
  if (side < 0) {
    for (Triangle& t : mesh.triangles) std::swap(t[1], t[2]);
  }
  return mesh;
}

TriMesh both_sides(TriMesh left) {
  TriMesh right = left;
  for (Vec3& p : right.points) p.y = -p.y;
  for (Triangle& t : right.triangles) std::swap(t[1], t[2]);
  add(left, right);
  return left;
}

/// The dark body behind the gaps: the skin moved inwards, with room for the wheels.
TriMesh inner_body() {
  const auto field = [](Vec3 p) {
    const double well = std::max(from_axle(p) - kArchRadius - 6, 655 - std::fabs(p.y));
    return std::max(body_distance(p) + 26, -well);
  };
  return both_sides(IsoSurface(field, {-2560, 0, 150}, {2380, 1000, 1600}, 66).mesh);
}

constexpr double kMirrorBack = kMirror.x - 58;  ///< where the housing is open to the rear

TriMesh mirror_shells() {
  const auto field = [](Vec3 p) { return std::max(mirror_housing(p) + 1.5, kMirrorBack - p.x); };
  return both_sides(
      IsoSurface(field, kMirror - Vec3{120, 140, 100}, kMirror + Vec3{110, 140, 100}, 11).mesh);
}

TriMesh mirror_glasses() {
  TriMesh glass;
  const Vec3 middle{kMirrorBack - 2, kMirror.y, kMirror.z};
  glass.points.push_back(middle);
  constexpr VertexIndex kSides = 64;
  for (VertexIndex i = 0; i < kSides; ++i) {
    const double angle = 2 * std::numbers::pi * i / kSides;
    double radius = 0;
    const auto at = [&](double r) {
      return middle + Vec3{2, r * std::cos(angle), r * std::sin(angle)};
    };
    while (mirror_housing(at(radius)) < -7) radius += 0.5;
    glass.points.push_back(at(radius) - Vec3{2, 0, 0});
    glass.triangles.push_back({0, 1 + (i + 1) % kSides, 1 + i});
  }
  return both_sides(glass);
}

}  // namespace

std::vector<shop::Scenery> make_scenery() {
  std::vector<shop::Scenery> scenery{{"inner_body", Finish::bare_plastic, inner_body()}};
  const auto everywhere = [](const TriMesh& part) {
    TriMesh all;
    for (double x : {kHalfWheelbase, -kHalfWheelbase}) {
      for (double side : {1.0, -1.0}) add(all, placed(part, x, x > 0 ? 940 : 948, side));
    }
    return all;
  };
  scenery.push_back({"tyres", Finish::rubber, everywhere(tyre())});
  scenery.push_back({"rims", Finish::chrome, everywhere(rim())});
  scenery.push_back({"brakes", Finish::bare_plastic, everywhere(brake())});
  scenery.push_back({"mirror_shells", Finish::bare_plastic, mirror_shells()});
  scenery.push_back({"mirror_glasses", Finish::chrome, mirror_glasses()});
  return scenery;
}

}  // namespace film::demo
