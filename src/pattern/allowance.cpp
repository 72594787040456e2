#include "pattern/allowance.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "base/text.h"
#include "geometry/overlay.h"
#include "pattern/detail/corner_shapes.h"
#include "pattern/detail/fold_line.h"

namespace film::pattern {
namespace {

using detail::Bend;
using detail::FoldLine;
using detail::FoldNode;

// Layers of the overlay.
constexpr std::size_t kPanel = 0;     // inside the fold
constexpr std::size_t kExtended = 1;  // strips outside it
constexpr std::size_t kHeldBack = 2;  // strips inside it
constexpr std::size_t kNotched = 3;   // taken out of strips, never out of the panel

bool belongs_to_film(const Overlay::Windings& w) {
  return (w[kPanel] > 0 || (w[kExtended] > 0 && w[kNotched] <= 0)) && w[kHeldBack] <= 0;
}

/// Parts smaller than this are crumbs of the knife's width, mm^2.
constexpr double kCrumb = 0.01;

/// The outer sides of a line's strips: for each edge, from its start to its end. Where two strips
/// overlap in a gentle bend their ends are drawn back to the point where the sides cross, which
/// changes nothing of their union and saves the overlay a crossing of nearly parallel lines.
class Strips {
 public:
  explicit Strips(const FoldLine& line) : line_(line) {
    const std::size_t n = line.nodes.size();
    for (std::size_t i = 0; i < n; ++i) {
      const FoldNode& a = line.nodes[i];
      const FoldNode& b = line.next(i);
      const Vec2 normal = detail::outward(a.at, b.at);
      from_.push_back(a.at + a.after * normal);
      to_.push_back(b.at + b.before * normal);
    }
    std::vector<std::optional<Vec2>> crossings;
    for (std::size_t i = 0; i < n; ++i) crossings.push_back(crossing_at(i));
    for (std::size_t i = 0; i < n; ++i) {  // an edge too short for both its crossings keeps neither
      auto& first = crossings[i];
      auto& second = crossings[(i + 1) % n];
      if (first && second && dot(*second - *first, to_[i] - from_[i]) <= 0) {
        first.reset();
        second.reset();
      }
    }
    for (std::size_t i = 0; i < n; ++i) {
      if (!crossings[i]) continue;
      to_[(i + n - 1) % n] = *crossings[i];
      from_[i] = *crossings[i];
    }
  }

  void add_to(Overlay& overlay) const {
    for (std::size_t i = 0; i < line_.nodes.size(); ++i) {
      const FoldNode& a = line_.nodes[i];
      const FoldNode& b = line_.next(i);
      if (a.after + b.before > 0) {
        overlay.add(kExtended, Ring{a.at, from_[i], to_[i], b.at});
      } else if (a.after + b.before < 0) {
        overlay.add(kHeldBack, Ring{a.at, b.at, to_[i], from_[i]});
      }
    }
  }

 private:
  [[nodiscard]] std::optional<Vec2> crossing_at(std::size_t i) const {
    constexpr double kGentle = 0.8;  // radians; past it a strip's end may reach past the other
    const FoldNode& node = line_.nodes[i];
    const bool overlap = (node.before > 0 && node.after > 0 && node.turn < 0) ||
                         (node.before < 0 && node.after < 0 && node.turn > 0);
    if (!overlap || std::abs(node.turn) > kGentle) return std::nullopt;
    const std::size_t last = (i + line_.nodes.size() - 1) % line_.nodes.size();
    const Vec2 u = to_[last] - from_[last];
    const Vec2 v = to_[i] - from_[i];
    const double area = cross(u, v);
    if (std::abs(area) < 1e-12 * length(u) * length(v)) return std::nullopt;
    const double s = cross(from_[i] - from_[last], v) / area;
    const double t = cross(from_[i] - from_[last], u) / area;
    if (!(s > 0 && s <= 1 && t >= 0 && t < 1)) return std::nullopt;
    return from_[last] + s * u;
  }

  const FoldLine& line_;
  std::vector<Vec2> from_, to_;
};

void add_at(Overlay& overlay, std::size_t layer, Ring ring, Vec2 at) {
  for (Vec2& p : ring) p += at;
  overlay.add(layer, ring);
}

/// A bend so slight that a mitre hardly differs from an arc.
bool is_slight(const Bend& bend, double tolerance) {
  const double widest = std::max(std::abs(bend.before), std::abs(bend.after));
  const double cosine = std::cos(bend.turn / 2);
  return cosine > 0.5 && widest * (1 / cosine - 1) <= tolerance;
}

Ring corner_shape(const Bend& bend, Corner corner, const ExtendOptions& options) {
  if (is_slight(bend, options.chord_tolerance.value) || corner != Corner::round) {
    return detail::closed_corner(bend, options.mitre_limit);
  }
  return detail::round_corner(bend, options.chord_tolerance.value);
}

void add_outward_corner(Overlay& overlay, const FoldNode& node, const Bend& bend,
                        const ExtendOptions& options) {
  add_at(overlay, kExtended, corner_shape(bend, node.corner, options), node.at);
  if (node.corner == Corner::notch && bend.turn > options.corner.radians) {
    add_at(overlay, kNotched, detail::notch(bend, options.mitre_limit, options.relief.stop.value),
           node.at);
  }
}

/// One tuck meets one held-back edge: the held-back line goes on across the tuck.
void add_mixed_corner(Overlay& overlay, const FoldNode& node, const Bend& bend,
                      const ExtendOptions& options) {
  const Vec2 point = detail::mitre_point(bend);
  const double reach = options.mitre_limit * std::max(std::abs(bend.before), std::abs(bend.after));
  if (!(length(point) <= reach)) return;
  Ring wedge{{0, 0}, bend.first(), point, bend.second()};
  if (signed_area(wedge) < 0) std::reverse(wedge.begin(), wedge.end());
  add_at(overlay, kNotched, std::move(wedge), node.at);
}

void add_corner(Overlay& overlay, const FoldLine& line, std::size_t i,
                const ExtendOptions& options) {
  const FoldNode& node = line.nodes[i];
  const Vec2 arriving = node.at - line.last(i).at;
  const Vec2 leaving = line.next(i).at - node.at;
  const Bend bend{arriving / length(arriving), leaving / length(leaving), node.before, node.after,
                  node.turn};
  const bool outward = node.before > 0 && node.after > 0;
  const bool held_back = node.before < 0 && node.after < 0;
  if (outward && node.turn > 0) {
    add_outward_corner(overlay, node, bend, options);
  } else if (held_back && node.turn < 0) {
    add_at(overlay, kHeldBack, corner_shape(bend, node.corner, options), node.at);
  } else if (node.before * node.after < 0 && node.turn > 0) {
    add_mixed_corner(overlay, node, bend, options);
  }
}

Result<Polygon> one_region(std::vector<Polygon> regions, const Piece& piece) {
  std::erase_if(regions, [](const Polygon& p) { return area(p) < kCrumb; });
  const std::string where = format("piece \"{}\"", piece.id);
  if (regions.empty()) {
    return fail(ErrorCode::invalid_input, "its edges are held back so far that no film is left",
                where, "Hold them back less");
  }
  if (regions.size() > 1) {
    const Vec2 at = bounding_box(regions[1]).centre();
    return fail(
        ErrorCode::invalid_input,
        format("held back this far the piece falls into {} parts, one near ({:.1f}, {:.1f})",
               regions.size(), at.x, at.y),
        where, "Hold the edges at its narrow places back less");
  }
  Polygon region = std::move(regions.front());
  std::erase_if(region.holes, [](const Ring& hole) { return -signed_area(hole) < kCrumb; });
  return region;
}

}  // namespace

Mm default_allowance(EdgeKind kind) {
  switch (kind) {
    case EdgeKind::gap:
    case EdgeKind::hem: return Mm::from_inches(0.25);
    case EdgeKind::cutout: return Mm{0};
    case EdgeKind::seal: return Mm{-1.5};
    case EdgeKind::seam: return Mm{6};
  }
  return Mm{0};
}

Piece with_default_allowances(Piece piece) {
  for (EdgeStretch& edge : piece.edges) edge.allowance = default_allowance(edge.kind);
  return piece;
}

Result<Piece> extend(Piece piece, const ExtendOptions& options, const Context& context) {
  if (auto checked = check_edges(piece); !checked) return tl::unexpected(checked.error());
  piece.slits.clear();
  const bool as_it_is = std::all_of(piece.edges.begin(), piece.edges.end(),
                                    [](const EdgeStretch& e) { return e.allowance.value == 0; });
  if (as_it_is) {
    piece.cut = piece.fold;
    return piece;
  }
  const std::vector<FoldLine> lines = detail::fold_lines(piece, options);
  Overlay overlay;
  for (const FoldLine& line : lines) {
    Ring panel;
    for (std::size_t i = 0; i < line.nodes.size(); ++i) {
      panel.push_back(line.nodes[i].at);
      add_corner(overlay, line, i, options);
    }
    overlay.add(kPanel, panel);
    Strips(line).add_to(overlay);
  }
  auto regions = overlay.region(belongs_to_film, context);
  if (!regions) return tl::unexpected(regions.error());
  auto cut = one_region(std::move(*regions), piece);
  if (!cut) return tl::unexpected(cut.error());
  piece.cut = std::move(*cut);
  if (options.relief.wanted) piece.slits = detail::relief_slits(piece, lines, options);
  return piece;
}

}  // namespace film::pattern
