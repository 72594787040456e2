#pragma once

#include <span>
#include <vector>

#include "cutting/plan.h"
#include "geometry/polygon.h"

namespace film::cutting::detail {

/// How far the line that is cut may stray from the one that was drawn where points are dropped.
inline constexpr double kDrawnTolerance = 0.005;  // mm, a fifth of a plotter unit
/// How far a swivel arc's chords may cut inside the circle.
inline constexpr double kSwivelSagitta = 0.004;  // mm

/// Where the axis would step sideways by less than twice this at a point, it passes between the two
/// places instead: half a plotter unit, which rounding costs anyway.
inline constexpr double kSideStep = 0.0125;  // mm

/// The chain without points that stray less than `tolerance` from it. Ends are kept.
/// Source: D. Douglas, T. Peucker, "Algorithms for the reduction of the number of points required
/// to represent a digitized line or its caricature", Cartographica 10(2), 1973.
Polyline simplified(std::span<const Vec2> chain, double tolerance);

/// Where the axis of a drag knife goes so that its tip follows `drawn`, and which way the blade
/// points at the end. `heading` is where the blade points when it is lowered (unit vector from tip
/// to axis). docs/algorithms/knife.md derives it.
struct DragPath {
  Stroke stroke;
  Vec2 heading;
};
/// The last `overcut` points of `drawn` lie past its start.
DragPath drag_path(std::span<const Vec2> drawn, std::size_t overcut, Vec2 heading,
                   const KnifeSettings& knife);

/// The strokes of a knife that the machine turns: broken at corners above the threshold.
std::vector<Stroke> tangential_strokes(std::span<const Vec2> drawn, std::size_t overcut,
                                       const KnifeSettings& knife);

}  // namespace film::cutting::detail
