#include "surface/detail/cut.h"

#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <utility>

#include "base/assert.h"
#include "surface/detail/topology.h"

namespace film::surface::detail {
namespace {

class Cutter {
 public:
  Cutter(const TriMesh& surface, const SurfacePath& path) : path_(path) {
    cut_.mesh = surface;
    std::vector<char> near(surface.points.size(), 0);
    for (const EdgePoint& p : path) near[p.a] = near[p.b] = 1;
    for (std::uint32_t t = 0; t < surface.triangles.size(); ++t) {
      const Triangle& c = surface.triangles[t];
      if (near[c[0]] || near[c[1]] || near[c[2]]) touched_.push_back(t);
    }
  }

  CutSurface run() {
    std::vector<VertexIndex> line;
    line.reserve(path_.size());
    for (const EdgePoint& p : path_) line.push_back(p.is_vertex() ? p.a : split(p));
    open(line);
    return std::move(cut_);
  }

 private:
  static constexpr VertexIndex kNone = std::numeric_limits<VertexIndex>::max();

  struct Corner {
    std::uint32_t triangle;
    std::size_t at;  // 0, 1, 2
  };

  /// The corner at `from` of the triangle that has the side from -> to.
  [[nodiscard]] std::optional<Corner> side(VertexIndex from, VertexIndex to) const {
    for (const std::uint32_t t : touched_) {
      const Triangle& c = cut_.mesh.triangles[t];
      for (std::size_t k = 0; k < 3; ++k) {
        if (c[k] == from && c[(k + 1) % 3] == to) return Corner{t, k};
      }
    }
    return std::nullopt;
  }

  /// Puts a vertex on an edge. Splitting one edge after another leaves an edge between each point
  /// of the path and the next.
  VertexIndex split(const EdgePoint& p) {
    const auto middle = static_cast<VertexIndex>(cut_.mesh.points.size());
    cut_.mesh.points.push_back(p.at(std::span<const Vec3>(cut_.mesh.points)));
    cut_.added.push_back(p);
    for (const auto& [from, to] : {std::pair{p.a, p.b}, std::pair{p.b, p.a}}) {
      const auto found = side(from, to);
      if (!found) continue;
      Triangle& whole = cut_.mesh.triangles[found->triangle];
      const VertexIndex apex = whole[(found->at + 2) % 3];
      whole[(found->at + 1) % 3] = middle;
      touched_.push_back(static_cast<std::uint32_t>(cut_.mesh.triangles.size()));
      cut_.mesh.triangles.push_back({middle, to, apex});
    }
    return middle;
  }

  /// Corners at `q` of the triangles on the right of the path before -> q -> after.
  [[nodiscard]] std::vector<Corner> right_of(VertexIndex before, VertexIndex q,
                                             VertexIndex after) const {
    std::vector<Corner> corners;
    if (after != kNone) {
      for (auto s = side(after, q); s;) {
        const Triangle& c = cut_.mesh.triangles[s->triangle];
        const std::size_t at = (s->at + 1) % 3;
        corners.push_back({s->triangle, at});
        const VertexIndex next = c[(at + 1) % 3];
        if (next == before) break;
        s = side(next, q);
      }
      return corners;
    }
    for (auto s = side(q, before); s;) {
      const Triangle& c = cut_.mesh.triangles[s->triangle];
      corners.push_back(*s);
      s = side(q, c[(s->at + 2) % 3]);
    }
    return corners;
  }

  void open(const std::vector<VertexIndex>& line) {
    const bool comes_apart = is_on_boundary(line.back(), line[line.size() - 2]);
    cut_.left = line;
    cut_.right = line;
    std::vector<std::pair<Corner, VertexIndex>> renamed;
    for (std::size_t i = 0; i < line.size(); ++i) {
      const bool last = i + 1 == line.size();
      if (last && !comes_apart) break;
      const VertexIndex before = i > 0 ? line[i - 1] : kNone;
      const VertexIndex after = last ? kNone : line[i + 1];
      const auto copy = static_cast<VertexIndex>(cut_.mesh.points.size());
      cut_.mesh.points.push_back(cut_.mesh.points[line[i]]);
      cut_.added.push_back(path_[i]);
      cut_.right[i] = copy;
      for (const Corner& c : right_of(before, line[i], after)) renamed.emplace_back(c, copy);
    }
    for (const auto& [corner, copy] : renamed) {
      cut_.mesh.triangles[corner.triangle][corner.at] = copy;
    }
  }

  /// Whether turning about q from its neighbour `from` ends at the boundary.
  [[nodiscard]] bool is_on_boundary(VertexIndex q, VertexIndex from) const {
    VertexIndex spoke = from;
    for (std::size_t i = 0; i <= touched_.size(); ++i) {
      const auto s = side(q, spoke);
      if (!s) return true;
      spoke = cut_.mesh.triangles[s->triangle][(s->at + 2) % 3];
      if (spoke == from) return false;
    }
    return true;
  }

  const SurfacePath& path_;
  CutSurface cut_;
  std::vector<std::uint32_t> touched_;
};

}  // namespace

double length_of(const TriMesh& surface, const SurfacePath& path) {
  const std::span<const Vec3> points(surface.points);
  double sum = 0;
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    sum += distance(path[i].at(points), path[i + 1].at(points));
  }
  return sum;
}

double cost_of(const TriMesh& surface, std::span<const double> cost, const SurfacePath& path) {
  const std::span<const Vec3> points(surface.points);
  double sum = 0;
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    sum += distance(path[i].at(points), path[i + 1].at(points)) *
           (path[i].at(cost) + path[i + 1].at(cost)) / 2;
  }
  return sum;
}

std::vector<Part> parts_of(const TriMesh& surface) {
  constexpr std::uint32_t kUnseen = std::numeric_limits<std::uint32_t>::max();
  const VertexTriangles stars = triangles_at_vertices(surface.triangles, surface.points.size());
  std::vector<VertexIndex> number(surface.points.size(), kUnseen);
  std::vector<char> seen(surface.triangles.size(), 0);
  std::vector<Part> parts;
  for (std::uint32_t first = 0; first < surface.triangles.size(); ++first) {
    if (seen[first]) continue;
    Part part;
    std::vector<std::uint32_t> queue{first};
    seen[first] = 1;
    for (std::size_t head = 0; head < queue.size(); ++head) {
      Triangle corners = surface.triangles[queue[head]];
      for (VertexIndex& v : corners) {
        for (const std::uint32_t t : stars.at(v)) {
          if (!std::exchange(seen[t], char{1})) queue.push_back(t);
        }
        if (number[v] == kUnseen) {
          number[v] = static_cast<VertexIndex>(part.whole.size());
          part.whole.push_back(v);
          part.mesh.points.push_back(surface.points[v]);
        }
        v = number[v];
      }
      part.mesh.triangles.push_back(corners);
    }
    parts.push_back(std::move(part));
  }
  return parts;
}

CutSurface cut_open(const TriMesh& surface, const SurfacePath& path) {
  FILM_ASSERT(path.size() >= 2);
  return Cutter(surface, path).run();
}

}  // namespace film::surface::detail
