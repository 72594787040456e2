#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "digitise/detail/adjust.h"
#include "geometry/polygon.h"
#include "geometry/raster.h"

namespace film::digitise::detail {

/// What the camera saw of the ground between the sheets, looked at from straight above on a grid of
/// squares; row 0 is the lowest (y up).
struct PlanView {
  Vec2 low;          ///< middle of square (0, 0), board frame
  double pitch = 1;  ///< mm
  int width = 0, height = 0;
  std::vector<float> light;        ///< logarithm of the light
  std::vector<std::uint8_t> free;  ///< 1: between the sheets and in the photo

  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
           static_cast<std::size_t>(x);
  }
  [[nodiscard]] Vec2 place(double x, double y) const { return low + pitch * Vec2{x, y}; }
};

/// The page of each sheet, board frame, grown by `margin` mm.
std::vector<Ring> pages(const Scene& scene, double margin);
/// The convex hull of points, counter-clockwise.
Ring hull_of(std::vector<Vec2> points);

PlanView plan_view(const GreyRaster& photo, const Scene& scene, double height, double pitch);

/// How much the template differs from the ground, as a field on the plan view: above 0 on
/// templates; and which spot each square belongs to.
struct Separation {
  std::vector<float> field;
  bool dark = false;    ///< the template is darker than the ground
  double contrast = 1;  ///< brighter over darker
};

/// Parts templates from ground by brightness against a threshold that follows the light over the
/// place: both classes together tell the light, since each is of even colour.
/// Source of the first guess: N. Otsu, "A threshold selection method from gray-level histograms",
/// IEEE Trans. SMC 9(1), 1979.
/// Errors: invalid_input when there is only one brightness.
Result<Separation> separate(const PlanView& view);

/// A connected spot of template with the ground inside it.
struct Spot {
  double area = 0;          ///< mm^2
  bool at_border = false;   ///< reaches a sheet, the edge of the board or of the photo
  Vec2 border;              ///< a place where it does
  std::vector<Ring> rings;  ///< board frame: outer counter-clockwise, then holes
};

/// Spots of at least `least` mm^2, largest first; holes of less than `least` / 10 are filled in.
std::vector<Spot> spots(const PlanView& view, const Separation& separation, double least);

}  // namespace film::digitise::detail
