#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "base/units.h"
#include "geometry/curve_fit.h"
#include "geometry/polygon.h"
#include "geometry/raster.h"

namespace film::digitise {

struct Options {
  /// The check lines of a printed sheet as measured: what the printer made of 240 mm up the sheet
  /// and 170 mm across. Without the second, the printer is taken to have scaled both ways nearly
  /// alike.
  Mm long_check;
  std::optional<Mm> short_check;
  Mm check_within{0.2};      ///< how far the measurements may be off (95 %)
  Mm thickness{0.2};         ///< of the template: how high its upper face lies over the paper's
  Mm thickness_within{0.1};  ///< how far that may be off (95 %)
  Mm tolerance{
      0.2};  ///< curves keep within this of what was seen, or nearer where the photo is sharp
  double least_area = 1000;  ///< mm^2; smaller spots are not templates
};

/// How sure the outline is; every figure holds for 95 % of it, mm.
struct Accuracy {
  double expected = 0;  ///< all together: how far the outline may lie from the true one
  double camera = 0;    ///< from where the markers were seen, and how the lens bends
  double edge = 0;      ///< from noise and blur along the template's edge
  double scale = 0;     ///< from the measured check lines
  double height = 0;    ///< from the template's thickness
};

/// The camera as found.
struct View {
  double focal = 0;         ///< px
  double k1 = 0, k2 = 0;    ///< radial distortion
  Angle tilt;               ///< between the view and the plumb line onto the board
  double mm_per_pixel = 0;  ///< where the templates lie
  double residual = 0;      ///< px, root mean square over the marker edges
  std::size_t markers = 0;
  std::vector<int> sheets;  ///< numbers as printed, from 1
};

/// One template.
struct Outline {
  Polygon polygon;                ///< mm, face up; the curves within 0.02 mm
  std::vector<CurvePath> curves;  ///< outer ring, then the holes, as the polygon's rings
  std::vector<Ring> in_photo;     ///< the same rings in px of the photo, y down
  Accuracy accuracy;
};

struct Digitised {
  std::vector<Outline> outlines;  ///< largest first
  View view;
  std::vector<std::string> notes;  ///< what a person should look at
};

/// Finds the templates that lie flat among the sheets of a marker board (board.h) and traces their
/// outlines, corrected for perspective, lens and print scale.
///
/// Frame: mm, x and y those of the lowest-numbered sheet seen, the low left corner of the box round
/// all outlines at the origin. The face that the camera saw is up. Rings as in make_polygon.
/// The photo may be lit unevenly and hold soft shadows; the template may be the darker or the
/// brighter part. Nothing else may lie among the sheets.
///
/// Errors: invalid_input - the check lines are not near their drawn length; no marker, or too few
/// for the lens; a sheet laid twice; a photo too blurred to measure; no template that stands out;
/// a template that reaches over a sheet or out of the board. cancelled.
/// Cost: time for one pass over the photo, and some ms for each marker. Deterministic.
/// Sources: docs/algorithms/digitising.md.
Result<Digitised> digitise(const GreyRaster& photo, const Options& options,
                           const Context& context = {});

}  // namespace film::digitise
