#include "surface/detail/drawn_line.h"

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <utility>

#include "surface/detail/topology.h"

namespace film::surface::detail {
namespace {

/// Nearer to a vertex or an edge than this share, it is meant.
constexpr double kSnap = 1e-3;

/// Weights of the corners at the point of the triangle nearest to p: the region of the plane in
/// which p lies decides whether that is a corner, on an edge or inside.
/// Source: C. Ericson, Real-Time Collision Detection, 2005, section 5.1.5.
std::array<double, 3> nearest_weights(Vec3 p, Vec3 a, Vec3 b, Vec3 c) {
  const Vec3 ab = b - a, ac = c - a, ap = p - a;
  const double d1 = dot(ab, ap), d2 = dot(ac, ap);
  if (d1 <= 0 && d2 <= 0) return {1, 0, 0};
  const Vec3 bp = p - b;
  const double d3 = dot(ab, bp), d4 = dot(ac, bp);
  if (d3 >= 0 && d4 <= d3) return {0, 1, 0};
  const double vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return {1 - d1 / (d1 - d3), d1 / (d1 - d3), 0};
  const Vec3 cp = p - c;
  const double d5 = dot(ab, cp), d6 = dot(ac, cp);
  if (d6 >= 0 && d5 <= d6) return {0, 0, 1};
  const double vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return {1 - d2 / (d2 - d6), 0, d2 / (d2 - d6)};
  const double va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const double share = (d4 - d3) / ((d4 - d3) + (d5 - d6));
    return {0, 1 - share, share};
  }
  const double sum = va + vb + vc;
  return {va / sum, vb / sum, vc / sum};
}

using Corners = std::vector<VertexIndex>;

double doubled_area(const TriMesh& mesh, VertexIndex a, VertexIndex b, VertexIndex c) {
  return length(cross(mesh.points[b] - mesh.points[a], mesh.points[c] - mesh.points[a]));
}

/// How well shaped a triangle is: 0 for none at all.
double shape(const TriMesh& mesh, VertexIndex a, VertexIndex b, VertexIndex c) {
  const double longest = std::max({squared_length(mesh.points[b] - mesh.points[a]),
                                   squared_length(mesh.points[c] - mesh.points[b]),
                                   squared_length(mesh.points[a] - mesh.points[c])});
  return longest > 0 ? doubled_area(mesh, a, b, c) / longest : 0;
}

/// Whether all corners lie on one line.
bool is_flat(const TriMesh& mesh, const Corners& corners) {
  for (std::size_t i = 0; i + 2 < corners.size(); ++i) {
    for (std::size_t j = i + 1; j + 1 < corners.size(); ++j) {
      for (std::size_t k = j + 1; k < corners.size(); ++k) {
        if (shape(mesh, corners[i], corners[j], corners[k]) > 1e-9) return false;
      }
    }
  }
  return true;
}

/// Triangles of a convex polygon, some corners of which may lie on its straight sides: cuts the
/// best shaped ear off, so that what is left is no line.
void fill(const TriMesh& mesh, Corners corners, std::vector<Triangle>& out) {
  while (corners.size() > 3) {
    std::size_t best = corners.size();
    double best_shape = 0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const std::size_t n = corners.size();
      const double good = shape(mesh, corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]);
      if (good <= best_shape) continue;
      Corners rest = corners;
      rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
      if (is_flat(mesh, rest)) continue;
      best = i;
      best_shape = good;
    }
    if (best == corners.size()) best = 0;  // a sliver of a triangle to begin with
    const std::size_t n = corners.size();
    out.push_back({corners[(best + n - 1) % n], corners[best], corners[(best + 1) % n]});
    corners.erase(corners.begin() + static_cast<std::ptrdiff_t>(best));
  }
  out.push_back({corners[0], corners[1], corners[2]});
}

using Chord = std::pair<VertexIndex, VertexIndex>;

/// Divides along the chords first, then fills.
void divide(const TriMesh& mesh, const Corners& corners, const std::vector<Chord>& chords,
            std::vector<Triangle>& out) {
  const std::size_t n = corners.size();
  for (const auto& [a, b] : chords) {
    const auto i =
        static_cast<std::size_t>(std::find(corners.begin(), corners.end(), a) - corners.begin());
    const auto j =
        static_cast<std::size_t>(std::find(corners.begin(), corners.end(), b) - corners.begin());
    if (i == n || j == n || (i + 1) % n == j || (j + 1) % n == i) continue;
    const auto [low, high] = std::minmax(i, j);
    const auto at = [&corners](std::size_t k) {
      return corners.begin() + static_cast<std::ptrdiff_t>(k);
    };
    Corners first(at(low), at(high + 1));
    Corners second(at(high), corners.end());
    second.insert(second.end(), corners.begin(), at(low + 1));
    divide(mesh, first, chords, out);
    divide(mesh, second, chords, out);
    return;
  }
  fill(mesh, corners, out);
}

}  // namespace

Foot nearest_on(const TriMesh& mesh, Vec3 point) {
  Foot best;
  best.away = std::numeric_limits<double>::infinity();
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    const Triangle& corners = mesh.triangles[t];
    const Vec3 a = mesh.points[corners[0]], b = mesh.points[corners[1]],
               c = mesh.points[corners[2]];
    const auto weights = nearest_weights(point, a, b, c);
    const Vec3 at = weights[0] * a + weights[1] * b + weights[2] * c;
    const double away = distance(at, point);
    if (away < best.away) best = {t, at, {weights[0], weights[1], weights[2]}, away};
  }
  return best;
}

VertexIndex put_vertex(TriMesh& mesh, const Foot& foot) {
  const Triangle corners = mesh.triangles[foot.triangle];
  for (std::size_t k = 0; k < 3; ++k) {
    if (foot.weight[k] > 1 - kSnap) return corners[k];
  }
  for (std::size_t k = 0; k < 3; ++k) {
    if (foot.weight[k] >= kSnap) continue;
    const VertexIndex a = corners[(k + 1) % 3], b = corners[(k + 2) % 3];
    const double sum = foot.weight[(k + 1) % 3] + foot.weight[(k + 2) % 3];
    const EdgePoint on_edge{a, b, foot.weight[(k + 2) % 3] / sum};
    return put_line(mesh, {&on_edge, 1}).front();
  }
  const auto fresh = static_cast<VertexIndex>(mesh.points.size());
  mesh.points.push_back(foot.at);
  mesh.triangles[foot.triangle] = {corners[0], corners[1], fresh};
  mesh.triangles.push_back({corners[1], corners[2], fresh});
  mesh.triangles.push_back({corners[2], corners[0], fresh});
  return fresh;
}

std::vector<VertexIndex> put_line(TriMesh& mesh, std::span<const EdgePoint> way) {
  struct OnEdge {
    double share;  // from the smaller vertex number
    VertexIndex vertex;
  };
  std::map<Chord, std::vector<OnEdge>> on_edges;
  std::vector<VertexIndex> line;
  for (const EdgePoint& p : way) {
    VertexIndex v = p.a;
    if (p.a != p.b && p.share > kSnap) v = p.b;
    if (p.a != p.b && p.share > kSnap && p.share < 1 - kSnap) {
      v = static_cast<VertexIndex>(mesh.points.size());
      mesh.points.push_back(place_of(mesh, p));
      const bool forward = p.a < p.b;
      on_edges[std::minmax(p.a, p.b)].push_back({forward ? p.share : 1 - p.share, v});
    }
    if (line.empty() || line.back() != v) line.push_back(v);
  }
  std::set<Chord> chords;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    chords.insert(std::minmax(line[i], line[i + 1]));
  }
  const std::set<VertexIndex> on_line(line.begin(), line.end());
  std::vector<Triangle> triangles;
  for (const Triangle& t : mesh.triangles) {
    Corners corners;
    for (std::size_t k = 0; k < 3; ++k) {
      const VertexIndex a = t[k], b = t[(k + 1) % 3];
      corners.push_back(a);
      const auto found = on_edges.find(std::minmax(a, b));
      if (found == on_edges.end()) continue;
      auto inserted = found->second;
      std::sort(inserted.begin(), inserted.end(), [a, b](const OnEdge& p, const OnEdge& q) {
        return a < b ? p.share < q.share : p.share > q.share;
      });
      for (const OnEdge& p : inserted) corners.push_back(p.vertex);
    }
    if (corners.size() == 3) {
      triangles.push_back(t);
      continue;
    }
    std::vector<Chord> here;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      if (on_line.count(corners[i]) == 0) continue;
      for (std::size_t j = i + 1; j < corners.size(); ++j) {
        const Chord chord = std::minmax(corners[i], corners[j]);
        if (chords.count(chord) != 0) here.push_back(chord);
      }
    }
    divide(mesh, corners, here, triangles);
  }
  mesh.triangles = std::move(triangles);
  return line;
}

}  // namespace film::surface::detail
