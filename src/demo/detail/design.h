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

  // What departs from the usual, said one after the other.
  PanelDesign& open(Cut opening) { return openings.push_back(std::move(opening)), *this; }
  PanelDesign& on(Field other) { return skin = std::move(other), *this; }
  PanelDesign& corners(double radius) { return corner = radius, *this; }
  PanelDesign& seen(const Chart& by) { return chart = by, *this; }
  PanelDesign& with_sensor() { return sensor = true, *this; }
  PanelDesign& with_badge() { return badge = true, *this; }
  PanelDesign& no_finer_than(double edge) { return least_edge = edge, *this; }
};

/// Adds a panel on the car's own skin. The reference is good until the next panel is added.
PanelDesign& add(std::vector<PanelDesign>& designs, std::string id, std::string name,
                 std::string zone, shop::Finish finish, Vec3 inside, std::vector<Cut> cuts);

void add_front(std::vector<PanelDesign>& designs);
void add_side(std::vector<PanelDesign>& designs);
void add_glasshouse(std::vector<PanelDesign>& designs);
void add_rear(std::vector<PanelDesign>& designs);
void add_entry_sills(std::vector<PanelDesign>& designs);

/// The panels of the left half and of the middle. Left-hand ids end in "_left".
std::vector<PanelDesign> panel_designs();

/// Tyres, rims and the dark body behind the gaps.
std::vector<shop::Scenery> make_scenery();

}  // namespace film::demo
