#include "pattern/from_surface.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <unordered_map>
#include <unordered_set>
#include <utility>

#include "base/text.h"
#include "pattern/allowance.h"
#include "pattern/edges.h"

namespace film::pattern {
namespace {

using Loop = std::vector<VertexIndex>;
constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();

struct Place {
  std::size_t loop = 0, at = 0;
};

/// A ring being divided: for each of its edges the path that covers it.
struct Outline {
  Ring ring;
  std::vector<std::size_t> cover;  // index of the path, or kNone
  std::vector<bool> starts;        // does a stretch start at this vertex?
};

Failure broken(const std::string& what, const std::string& name) {
  return fail(ErrorCode::invalid_input, what, format("edge \"{}\"", name));
}

/// Marks the edges of its loop that a path covers.
Result<void> cover(const BoundaryPath& path, std::size_t number,
                   const std::unordered_map<VertexIndex, Place>& places,
                   std::vector<Outline>& outlines) {
  const auto found = path.path.empty() ? places.end() : places.find(path.path.front());
  if (found == places.end()) return broken("it does not start on the boundary", path.name);
  const std::size_t loop = found->second.loop;
  Outline& outline = outlines[loop];
  const std::size_t n = outline.ring.size();
  const bool whole = path.path.size() >= n;
  const std::size_t edges = whole ? n : path.path.size() - 1;
  if (edges == 0 || path.path.size() > n + 1) return broken("it has no length", path.name);
  for (std::size_t k = 1; k < path.path.size(); ++k) {
    const auto at = places.find(path.path[k]);
    if (at == places.end() || at->second.loop != loop ||
        at->second.at != (found->second.at + k) % n) {
      return broken(format("vertex {} of its path does not follow on along the boundary", k),
                    path.name);
    }
  }
  outline.starts[found->second.at] = true;
  for (std::size_t k = 0; k < edges; ++k) {
    std::size_t& covered = outline.cover[(found->second.at + k) % n];
    if (covered != kNone) return broken("it overlaps another stretch", path.name);
    covered = number;
  }
  return {};
}

/// Where nobody said what the edge is: a stretch from the end of the last path, and one from each
/// corner.
void divide_rest(Outline& outline) {
  const std::size_t n = outline.ring.size();
  bool bare = true;
  for (std::size_t i = 0; i < n; ++i) {
    const bool covered = outline.cover[i] != kNone;
    bare = bare && !covered;
    if (!covered && outline.cover[(i + n - 1) % n] != kNone) outline.starts[i] = true;
  }
  for (const std::size_t i : corners(outline.ring)) {
    const bool inside = outline.cover[i] == kNone && outline.cover[(i + n - 1) % n] == kNone;
    if (bare || inside) outline.starts[i] = true;
  }
}

/// Drops repeated points, which a flattening may leave; a stretch that starts on one starts on
/// the point that stays.
void drop_repeats(Outline& outline) {
  Outline kept;
  const std::size_t n = outline.ring.size();
  bool start_pending = false;
  for (std::size_t i = 0; i < n; ++i) {
    start_pending = start_pending || outline.starts[i];
    if (outline.ring[i] == outline.ring[(i + 1) % n]) continue;
    kept.ring.push_back(outline.ring[i]);
    kept.cover.push_back(outline.cover[i]);
    kept.starts.push_back(start_pending);
    start_pending = false;
  }
  if (start_pending && !kept.starts.empty()) kept.starts.front() = true;
  outline = std::move(kept);
}

std::string fresh_name(const char* word, std::size_t& number,
                       const std::unordered_set<std::string>& taken) {
  std::string name;
  do {
    name = format("{} {}", word, ++number);
  } while (taken.contains(name));
  return name;
}

std::vector<EdgeStretch> stretches(const std::vector<Outline>& outlines,
                                   std::span<const BoundaryPath> paths) {
  std::unordered_set<std::string> taken;
  for (const BoundaryPath& path : paths) taken.insert(path.name);
  std::vector<EdgeStretch> edges;
  std::size_t outer = 0;
  std::size_t opening = 0;
  for (std::size_t r = 0; r < outlines.size(); ++r) {
    for (std::size_t i = 0; i < outlines[r].ring.size(); ++i) {
      if (!outlines[r].starts[i]) continue;
      EdgeStretch edge;
      edge.ring = r;
      edge.first = i;
      if (const std::size_t path = outlines[r].cover[i]; path != kNone) {
        edge.name = paths[path].name;
        edge.kind = paths[path].kind;
      } else if (r == 0) {
        edge.name = fresh_name("edge", outer, taken);
      } else {
        edge.name = fresh_name("opening", opening, taken);
        edge.kind = EdgeKind::cutout;
      }
      edge.allowance = default_allowance(edge.kind);
      edges.push_back(std::move(edge));
    }
  }
  return edges;
}

/// The loops as flat rings, outline first.
Result<std::vector<Loop>> ordered_loops(const TriMesh& surface, std::span<const Vec2> flat) {
  std::vector<Loop> loops = boundary_loops(surface);
  if (loops.empty()) return fail(ErrorCode::invalid_input, "the surface has no edge");
  const auto size = [&flat](const Loop& loop) {
    Ring ring;
    for (const VertexIndex v : loop) ring.push_back(flat[v]);
    return signed_area(ring);
  };
  const auto largest = std::max_element(
      loops.begin(), loops.end(),
      [&size](const Loop& a, const Loop& b) { return std::abs(size(a)) < std::abs(size(b)); });
  if (size(*largest) < 0) {
    return fail(ErrorCode::invalid_input, "the flat film is mirrored: it would lie face down", {},
                "Turn the surface's triangles so that their normals point outward");
  }
  std::rotate(loops.begin(), largest, largest + 1);
  return loops;
}

}  // namespace

Result<Piece> piece_from_surface(const TriMesh& surface, std::span<const Vec2> flat,
                                 std::span<const BoundaryPath> edges) {
  if (flat.size() != surface.points.size()) {
    return fail(ErrorCode::invalid_input,
                format("{} flat positions for {} vertices", flat.size(), surface.points.size()));
  }
  const auto loops = ordered_loops(surface, flat);
  if (!loops) return tl::unexpected(loops.error());
  std::vector<Outline> outlines;
  std::unordered_map<VertexIndex, Place> places;
  for (std::size_t r = 0; r < loops->size(); ++r) {
    Outline outline;
    for (const VertexIndex v : (*loops)[r]) {
      places[v] = {r, outline.ring.size()};
      outline.ring.push_back(flat[v]);
    }
    outline.cover.assign(outline.ring.size(), kNone);
    outline.starts.assign(outline.ring.size(), false);
    outlines.push_back(std::move(outline));
  }
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (auto covered = cover(edges[i], i, places, outlines); !covered) {
      return tl::unexpected(covered.error());
    }
  }
  for (Outline& outline : outlines) {
    divide_rest(outline);
    drop_repeats(outline);
  }
  Piece piece;
  piece.edges = stretches(outlines, edges);
  std::vector<Ring> holes;
  for (std::size_t r = 1; r < outlines.size(); ++r) holes.push_back(outlines[r].ring);
  for (const Ring& hole : holes) {
    if (signed_area(hole) > 0) {
      return fail(ErrorCode::invalid_input, "an opening of the flat film is turned inside out");
    }
  }
  auto fold = make_polygon(outlines.front().ring, std::move(holes));
  if (!fold) return tl::unexpected(fold.error());
  piece.fold = std::move(*fold);
  piece.cut = piece.fold;
  if (auto checked = check_edges(piece); !checked) return tl::unexpected(checked.error());
  return piece;
}

}  // namespace film::pattern
