#pragma once

#include <optional>
#include <string>
#include <vector>

#include "demo/detail/sheet.h"
#include "shop/vehicle.h"

namespace film::demo {

/// A panel as drawn: the part of a skin around `inside` between cuts, with openings.
struct PanelDesign {
  std::string id;
  std::string name;
  std::string zone;
  shop::Finish finish = shop::Finish::gloss_paint;
  Vec3 inside;
  std::vector<Cut> cuts;
  std::vector<Cut> openings;
  Field skin;
  double corner = 5;           ///< radius of its corners, mm
  std::optional<Chart> chart;  ///< none: seen along its mean normal
  bool sensor = false;
  bool badge = false;
  double least_edge = 8;  ///< triangles are not made finer than this, mm
};

/// The panels of the left half and of the middle. Left-hand ids end in "_left".
std::vector<PanelDesign> panel_designs();

/// Tyres, rims and the dark body behind the gaps.
std::vector<shop::Scenery> make_scenery();

}  // namespace film::demo
