#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "geometry/polygon.h"

namespace film {

/// The grid on which regions are combined, mm: a sixteenth of a nanometre.
inline constexpr double kOverlayGrid = 0x1.0p-24;

/// Combines regions given by closed curves that may cross, touch and overlap at will. Each curve
/// belongs to a layer (0 to 3); a point's winding number is counted in every layer, and a test of
/// the four numbers says whether the point is in the result.
///
/// Points are rounded to `kOverlayGrid`; crossings are found with exact predicates and rounded to
/// the same grid, again and again until the lines meet at nodes only. The result is therefore
/// valid whatever the input: every ring simple, no two rings sharing a point (where regions would
/// meet in one point they are parted by a hundredth of a millimetre).
/// Source: J. D. Hobby, "Practical segment intersection with finite precision output", Comput.
/// Geom. 13(4), 1999 (idea of snap rounding; here by iteration, not in one sweep).
class Overlay {
 public:
  static constexpr std::size_t kLayers = 4;
  using Windings = std::array<int, kLayers>;
  using Test = std::function<bool(const Windings&)>;

  /// Adds the curve round a ring: counter-clockwise counts +1 inside.
  void add(std::size_t layer, std::span<const Vec2> ring);
  void add(std::size_t layer, const Polygon& polygon);

  /// The region where `test` holds, largest polygon first. Coordinates must be finite and below
  /// 1e7 mm. `test` must be false where all windings are 0.
  /// Errors: cancelled. Cost: O((n + k) log n) typical, k crossings.
  Result<std::vector<Polygon>> region(const Test& test, const Context& context = {}) const;

 private:
  struct Line {
    Vec2 from, to;
    Windings weight;
  };
  std::vector<Line> lines_;
};

/// Regions combined two by two; inputs as `Polygon` promises.
std::vector<Polygon> united(std::span<const Polygon> regions);
std::vector<Polygon> common(const Polygon& a, const Polygon& b);
std::vector<Polygon> without(const Polygon& a, const Polygon& b);

/// Sorts loose closed rings into polygons by which lies in which: outlines, their holes, islands
/// in holes. Errors: invalid_input, as make_polygon.
Result<std::vector<Polygon>> nested_polygons(std::vector<Ring> rings);

}  // namespace film
