#include "surface/cut_out.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "base/text.h"
#include "surface/detail/drawn_line.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

using detail::SideIndex;
using Edge = std::pair<VertexIndex, VertexIndex>;

Edge edge_of(VertexIndex a, VertexIndex b) { return std::minmax(a, b); }

std::string words(Vec3 p) { return format("({:.1f}, {:.1f}, {:.1f})", p.x, p.y, p.z); }

/// The line as it lies on the mesh.
struct Line {
  std::map<Edge, std::size_t> leg;  // of each of its edges
  std::vector<Edge> directed;       // in its direction
  std::set<VertexIndex> vertices;
  double length = 0;
};

Result<std::vector<VertexIndex>> put_points(TriMesh& mesh, const CutOutOptions& options) {
  std::vector<VertexIndex> stops;
  for (std::size_t i = 0; i < options.points.size(); ++i) {
    const detail::Foot foot = detail::nearest_on(mesh, options.points[i]);
    const std::string where = format("point {} {}", i + 1, words(options.points[i]));
    if (!(foot.away <= options.reach.value)) {
      return fail(ErrorCode::invalid_input, format("it lies {:.1f} mm from the surface", foot.away),
                  where, "Choose points on the surface; are the units right?");
    }
    stops.push_back(detail::put_vertex(mesh, foot));
    if (i > 0 && stops[i] == stops[i - 1]) {
      return fail(ErrorCode::invalid_input, "it is the same place as the point before", where,
                  "Leave one of them out");
    }
  }
  if (stops.size() > 1 && stops.front() == stops.back()) {
    return fail(ErrorCode::invalid_input, "the last point is the first again",
                format("point {}", stops.size()), "The line closes by itself");
  }
  return stops;
}

/// Lays one leg; the legs before it are walls that it may only meet at its ends.
Result<void> lay_leg(TriMesh& mesh, const std::vector<VertexIndex>& stops, std::size_t leg,
                     Line& line) {
  const VertexIndex from = stops[leg];
  const VertexIndex to = stops[(leg + 1) % stops.size()];
  auto way = geodesic(mesh, from, to);
  if (!way) {
    Error error = way.error();
    error.where = format("points {} and {}", leg + 1, (leg + 1) % stops.size() + 1);
    return Failure(std::move(error));
  }
  for (std::size_t i = 1; i + 1 < way->size(); ++i) {
    const EdgePoint& p = (*way)[i];
    const bool crosses =
        p.a == p.b ? line.vertices.count(p.a) != 0 : line.leg.count(edge_of(p.a, p.b)) != 0;
    if (crosses) {
      return fail(ErrorCode::invalid_input, "the line crosses or runs along itself",
                  format("near {}, after point {}", words(place_of(mesh, p)), leg + 1),
                  "Add a point that leads it another way");
    }
  }
  line.length += length_of(mesh, *way);
  const auto vertices = detail::put_line(mesh, *way);
  for (std::size_t i = 0; i + 1 < vertices.size(); ++i) {
    const bool fresh = line.leg.emplace(edge_of(vertices[i], vertices[i + 1]), leg).second;
    const bool meets = i > 0 && line.vertices.count(vertices[i]) != 0;
    if (!fresh || meets) {
      return fail(ErrorCode::invalid_input, "the line crosses or runs along itself",
                  format("near {}, after point {}", words(mesh.points[vertices[i]]), leg + 1),
                  "Add a point that leads it another way");
    }
    line.directed.emplace_back(vertices[i], vertices[i + 1]);
  }
  line.vertices.insert(vertices.begin(), vertices.end());
  return {};
}

/// A mesh with what its edges are.
class Regions {
 public:
  Regions(const TriMesh& mesh, const Line& line, std::optional<Angle> crease)
      : mesh_(mesh), line_(line), across_(mesh.triangles.size() * 3, detail::kNoSide) {
    const auto edges = detail::group_edges(mesh.triangles, mesh.points.size());
    for (std::size_t e = 0; e < edges.count(); ++e) {
      const auto group = edges.group(e);
      if (group.size() != 2) continue;  // a rim; or three triangles, where the surface ends as well
      across_[group[0]] = group[1];
      across_[group[1]] = group[0];
    }
    if (crease) crease_ = crease->radians;
  }

  [[nodiscard]] bool is_wall(SideIndex side) const {
    if (across_[side] == detail::kNoSide) return true;
    const Edge edge =
        edge_of(detail::start_of(mesh_.triangles, side), detail::end_of(mesh_.triangles, side));
    return line_.leg.count(edge) != 0 || (crease_ && std::abs(bend(side)) > *crease_);
  }

  /// Angle by which the surface turns at an edge, positive where it turns away from its outside.
  [[nodiscard]] double bend(SideIndex side) const {
    const SideIndex other = across_[side];
    if (other == detail::kNoSide) return 0;
    const Vec3 m = area_vector(mesh_, mesh_.triangles[side / 3]);
    const Vec3 n = area_vector(mesh_, mesh_.triangles[other / 3]);
    const Vec3 along = mesh_.points[detail::end_of(mesh_.triangles, side)] -
                       mesh_.points[detail::start_of(mesh_.triangles, side)];
    const Vec3 turn = cross(m, n);
    const double size = std::atan2(length(turn), dot(m, n));
    return dot(turn, along) >= 0 ? size : -size;
  }

  /// All triangles reached from one without crossing a wall.
  [[nodiscard]] std::vector<bool> region(std::uint32_t triangle) const {
    std::vector<bool> in(mesh_.triangles.size(), false);
    std::vector<std::uint32_t> open{triangle};
    in[triangle] = true;
    while (!open.empty()) {
      const std::uint32_t t = open.back();
      open.pop_back();
      for (SideIndex side = 3 * t; side < 3 * t + 3; ++side) {
        if (is_wall(side) || in[across_[side] / 3]) continue;
        in[across_[side] / 3] = true;
        open.push_back(across_[side] / 3);
      }
    }
    return in;
  }

  [[nodiscard]] double area_of(const std::vector<bool>& in) const {
    double sum = 0;
    for (std::size_t t = 0; t < in.size(); ++t) {
      if (in[t]) sum += length(area_vector(mesh_, mesh_.triangles[t])) / 2;
    }
    return sum;
  }

  /// The triangles left and right of the line's first edge.
  [[nodiscard]] std::pair<std::uint32_t, std::uint32_t> beside_line() const {
    const Edge first = line_.directed.front();
    std::pair<std::uint32_t, std::uint32_t> found{detail::kNoSide, detail::kNoSide};
    for (SideIndex side = 0; side < across_.size(); ++side) {
      const VertexIndex a = detail::start_of(mesh_.triangles, side);
      const VertexIndex b = detail::end_of(mesh_.triangles, side);
      if (a == first.first && b == first.second) found.first = side / 3;
      if (a == first.second && b == first.first) found.second = side / 3;
    }
    return found;
  }

  [[nodiscard]] BoundaryRun run_at(SideIndex side) const {
    BoundaryRun run;
    const auto leg = line_.leg.find(
        edge_of(detail::start_of(mesh_.triangles, side), detail::end_of(mesh_.triangles, side)));
    if (leg != line_.leg.end()) {
      run.boundary = Boundary::drawn;
      run.leg = leg->second;
    } else if (across_[side] != detail::kNoSide) {
      run.boundary = Boundary::crease;
      run.turns_away = bend(side) > 0;
    }
    return run;
  }

 private:
  const TriMesh& mesh_;
  const Line& line_;
  std::vector<SideIndex> across_;
  std::optional<double> crease_;
};

Result<std::vector<bool>> choose(const TriMesh& mesh, const Regions& regions, const Line& line,
                                 const CutOutOptions& options) {
  if (options.inside) {
    const detail::Foot foot = detail::nearest_on(mesh, *options.inside);
    if (!(foot.away <= options.reach.value)) {
      return fail(ErrorCode::invalid_input, format("it lies {:.1f} mm from the surface", foot.away),
                  "the place inside " + words(*options.inside), "Choose a place on the panel");
    }
    return regions.region(foot.triangle);
  }
  const auto [left, right] = regions.beside_line();
  if (left == detail::kNoSide) return regions.region(right);
  if (right == detail::kNoSide) return regions.region(left);
  auto on_left = regions.region(left);
  if (on_left[right]) {
    return fail(ErrorCode::invalid_input, "the line does not part the surface",
                format("near {}", words(mesh.points[line.directed.front().first])),
                "Lead it all round the panel, or say a place inside when it ends at an edge");
  }
  auto on_right = regions.region(right);
  return regions.area_of(on_left) <= regions.area_of(on_right) ? on_left : on_right;
}

bool same_kind(const BoundaryRun& a, const BoundaryRun& b) {
  return a.boundary == b.boundary && a.leg == b.leg && a.turns_away == b.turns_away;
}

/// The runs of one loop, each as long as nothing changes.
void add_runs(const TriMesh& panel, const std::vector<VertexIndex>& loop,
              const std::map<Edge, BoundaryRun>& kind_of, bool of_opening,
              std::vector<BoundaryRun>& out) {
  const std::size_t n = loop.size();
  std::vector<BoundaryRun> kinds;
  for (std::size_t i = 0; i < n; ++i) {
    kinds.push_back(kind_of.at({loop[i], loop[(i + 1) % n]}));
  }
  std::size_t start = 0;
  while (start < n && same_kind(kinds[start], kinds[(start + n - 1) % n])) ++start;
  if (start == n) start = 0;
  for (std::size_t step = 0; step < n; ++step) {
    const std::size_t i = (start + step) % n;
    if (step == 0 || !same_kind(kinds[i], kinds[(i + n - 1) % n])) {
      out.push_back(kinds[i]);
      out.back().of_opening = of_opening;
      out.back().path = {loop[i]};
    }
    BoundaryRun& run = out.back();
    const VertexIndex next = loop[(i + 1) % n];
    run.length += distance(panel.points[run.path.back()], panel.points[next]);
    run.path.push_back(next);
  }
}

CutOut extract(const TriMesh& mesh, const Regions& regions, const std::vector<bool>& in) {
  constexpr VertexIndex kNone = std::numeric_limits<VertexIndex>::max();
  std::vector<VertexIndex> number(mesh.points.size(), kNone);
  CutOut made;
  std::map<Edge, BoundaryRun> kind_of;
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    if (!in[t]) continue;
    Triangle fresh{};
    for (std::size_t k = 0; k < 3; ++k) {
      VertexIndex& v = number[mesh.triangles[t][k]];
      if (v == kNone) {
        v = static_cast<VertexIndex>(made.panel.points.size());
        made.panel.points.push_back(mesh.points[mesh.triangles[t][k]]);
      }
      fresh[k] = v;
    }
    made.panel.triangles.push_back(fresh);
  }
  for (SideIndex side = 0; side < 3 * mesh.triangles.size(); ++side) {
    if (!in[side / 3] || !regions.is_wall(side)) continue;
    kind_of[{number[detail::start_of(mesh.triangles, side)],
             number[detail::end_of(mesh.triangles, side)]}] = regions.run_at(side);
  }
  bool outer = true;
  for (const auto& loop : boundary_loops(made.panel)) {
    bool known = true;  // not where the scan touches itself and loops were cut short
    for (std::size_t i = 0; i < loop.size(); ++i) {
      known = known && kind_of.count({loop[i], loop[(i + 1) % loop.size()]}) != 0;
    }
    if (known) add_runs(made.panel, loop, kind_of, !outer, made.boundary);
    outer = false;
  }
  return made;
}

}  // namespace

Result<CutOut> cut_out(const TriMesh& scan, const CutOutOptions& options, const Context& context) {
  const bool drawn = !options.points.empty();
  if (scan.triangles.empty()) return fail(ErrorCode::invalid_input, "the scan has no triangles");
  if (drawn && options.points.size() < 3) {
    return fail(ErrorCode::invalid_input, "a closed line needs three points or more", "points",
                "Add points round the panel");
  }
  if (!drawn && !(options.crease && options.inside)) {
    return fail(ErrorCode::invalid_input, "nothing says where the panel ends", "points",
                "Give points round it, or an angle for creases and a place inside");
  }
  TriMesh mesh = scan;
  auto stops = put_points(mesh, options);
  if (!stops) return Failure(stops.error());
  Line line;
  for (std::size_t leg = 0; leg < stops->size(); ++leg) {
    context.report("drawing the line",
                   static_cast<double>(leg) / static_cast<double>(stops->size()));
    if (context.stopped()) return fail(ErrorCode::cancelled, "stopped before the panel was cut");
    if (auto laid = lay_leg(mesh, *stops, leg, line); !laid) return Failure(laid.error());
  }
  const Regions regions(mesh, line, options.crease);
  const auto in = choose(mesh, regions, line, options);
  if (!in) return Failure(in.error());
  CutOut made = extract(mesh, regions, *in);
  made.line_length = line.length;
  return made;
}

}  // namespace film::surface
