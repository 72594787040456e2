#include "pattern/relief.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "geometry/predicates.h"
#include "geometry/simplify.h"
#include "pattern/allowance.h"
#include "pattern/detail/bunching.h"
#include "pattern/detail/fold_line.h"

namespace film::pattern {
namespace {

using detail::FoldLine;
using detail::FoldNode;

struct Ray {
  Vec2 from, direction;
  double stretch = 1;  // how much longer than the allowance the way to the cut is
};

/// From the fold outwards at a way along it. At a vertex: half way between the edges' normals.
Ray ray_at(const FoldLine& line, double along) {
  if (along >= line.length) along -= line.length;
  const auto after = std::upper_bound(line.nodes.begin(), line.nodes.end(), along,
                                      [](double s, const FoldNode& n) { return s < n.along; });
  const auto i = static_cast<std::size_t>(after - line.nodes.begin()) - 1;
  const double way = along - line.nodes[i].along;
  if (way < 1e-9) {
    const double stretch = 1 / std::max(0.25, std::cos(line.nodes[i].turn / 2));
    return {line.nodes[i].at, detail::outward_at(line, i), stretch};
  }
  const Vec2 edge = line.next(i).at - line.nodes[i].at;
  return {line.nodes[i].at + (way / length(edge)) * edge,
          detail::outward(line.nodes[i].at, line.next(i).at), 1};
}

/// How far along the ray the ring is first met, mm.
double first_hit(const Ring& ring, const Ray& ray, double most) {
  const Vec2 end = ray.from + most * ray.direction;
  double nearest = most;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[(i + 1) % ring.size()];
    if (meet(ray.from, end, a, b) == Meeting::none) continue;
    const double across = cross(ray.direction, b - a);
    if (across == 0) continue;
    const double at = cross(a - ray.from, b - a) / across;
    if (at > 0) nearest = std::min(nearest, at);
  }
  return nearest;
}

/// Does the slit keep the stop's distance from the whole fold line?
bool keeps_off(const Ring& fold, const Polyline& slit, double stop) {
  for (std::size_t i = 0; i < fold.size(); ++i) {
    const Vec2 a = fold[i];
    const Vec2 b = fold[(i + 1) % fold.size()];
    if (distance_to_segment(slit[1], a, b) < 0.99 * stop) return false;
    if (meet(slit[0], slit[1], a, b) != Meeting::none) return false;
  }
  return true;
}

/// The slit from the cut edge towards the fold; none where the cut is too near, or too far: there
/// two tucks have grown together.
std::optional<Polyline> slit_on(const Ray& ray, const Piece& piece, double allowance,
                                const ReliefOptions& relief) {
  const double most = 1.1 * allowance * ray.stretch;
  const double stop = relief.stop.value * ray.stretch;
  double depth = first_hit(piece.cut.outer, ray, most);
  for (const Ring& hole : piece.cut.holes) depth = std::min(depth, first_hit(hole, ray, most));
  if (depth >= most || depth < stop + relief.shortest.value) return std::nullopt;
  Polyline slit{ray.from + depth * ray.direction, ray.from + stop * ray.direction};
  bool clear = keeps_off(piece.fold.outer, slit, relief.stop.value);
  for (const Ring& hole : piece.fold.holes) {
    clear = clear && keeps_off(hole, slit, relief.stop.value);
  }
  if (!clear) return std::nullopt;
  return slit;
}

bool meets_any(const Polyline& slit, const std::vector<Polyline>& others) {
  return std::any_of(others.begin(), others.end(), [&slit](const Polyline& other) {
    return meet(slit[0], slit[1], other[0], other[1]) != Meeting::none;
  });
}

}  // namespace

namespace detail {

std::vector<Polyline> relief_slits(const Piece& piece, const std::vector<FoldLine>& lines,
                                   const ExtendOptions& options) {
  std::vector<Polyline> slits;
  const auto add = [&](const Ray& ray, double allowance) {
    const auto slit = slit_on(ray, piece, allowance, options.relief);
    if (slit && !meets_any(*slit, slits)) slits.push_back(*slit);
  };
  for (const FoldLine& line : lines) {
    for (std::size_t i = 0; i < line.nodes.size(); ++i) {
      const FoldNode& node = line.nodes[i];
      if (node.corner != Corner::slit || !(node.turn > options.corner.radians)) continue;
      if (node.before > 0 && node.after > 0) {
        const double stretch = 1 / std::max(0.25, std::cos(node.turn / 2));
        add({node.at, outward_at(line, i), stretch}, std::max(node.before, node.after));
      }
    }
    for (const SlitPlace& place : slit_places(line, runs(line, options), options)) {
      add(ray_at(line, place.along), piece.edges[place.edge].allowance.value);
    }
  }
  return slits;
}

}  // namespace detail

std::vector<Tuck> tucks(const Piece& piece, const ExtendOptions& options) {
  std::vector<Tuck> all(piece.edges.size());
  for (const FoldLine& line : detail::fold_lines(piece, options)) {
    for (std::size_t i = 0; i < line.nodes.size(); ++i) {
      all[line.nodes[i].edge].length += distance(line.nodes[i].at, line.next(i).at);
    }
    const auto runs = detail::runs(line, options);
    for (const detail::Run& run : runs) {
      for (const detail::Part& part : run) {
        Tuck& tuck = all[line.nodes[part.node].edge];
        (part.curvature > 0 ? tuck.surplus : tuck.lack) += std::abs(part.misfit());
        tuck.worst_bunch = std::max(tuck.worst_bunch, part.strain());
        tuck.worst_open = std::max(tuck.worst_open, -part.strain());
      }
    }
    for (const auto& place : detail::slit_places(line, runs, options)) ++all[place.edge].slits;
  }
  std::vector<Tuck> tucked;
  for (std::size_t e = 0; e < all.size(); ++e) {
    if (!(piece.edges[e].allowance.value > 0)) continue;
    all[e].edge = piece.edges[e].name;
    tucked.push_back(all[e]);
  }
  return tucked;
}

}  // namespace film::pattern
