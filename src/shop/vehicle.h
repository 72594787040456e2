#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/units.h"
#include "geometry/trimesh.h"
#include "pattern/piece.h"

namespace film::shop {

/// What a surface is made of; decides which film may go on it.
enum class Finish {
  gloss_paint,
  matte_paint,
  gloss_black,  ///< gloss-black trim
  bare_plastic,
  chrome,
  lamp,  ///< a lamp lens
  reflector,
  glass,
  rubber,  ///< seals
};

/// Which half of the vehicle a panel is on; left is the driver's left, +y.
enum class Side { left, right, centre };

/// A stretch of a panel's boundary: a path of mesh vertices along a boundary loop.
struct BoundaryStretch {
  std::string name;
  pattern::EdgeKind kind = pattern::EdgeKind::gap;
  std::vector<VertexIndex> path;  ///< in loop order; its last vertex starts the next stretch

  friend bool operator==(const BoundaryStretch&, const BoundaryStretch&) = default;
};

/// One surface of a vehicle that may get a piece of film.
struct Panel {
  std::string id;    ///< stable: "hood", "door_front_left"
  std::string name;  ///< for people
  std::string zone;  ///< "front", "left", "right", "rear", "roof", "sills", "glass", "lamps"
  Side side = Side::centre;
  Finish finish = Finish::gloss_paint;
  std::string twin_of;  ///< on a right-hand panel: the id of the left one it mirrors
  bool sensor = false;  ///< a camera, radar or ultrasonic sensor looks through or sits in it
  bool badge = false;   ///< a badge must come off first
  TriMesh surface;      ///< vehicle frame: x forward, y left, z up, mm; normals outward
  std::vector<BoundaryStretch> edges;  ///< together they cover every boundary loop

  friend bool operator==(const Panel&, const Panel&) = default;
};

/// A surface that is drawn so that the panels look like a vehicle, and that gets no film: tyres,
/// rims, the dark body behind the gaps.
struct Scenery {
  std::string id;
  Finish finish = Finish::rubber;
  TriMesh surface;  ///< as Panel::surface

  friend bool operator==(const Scenery&, const Scenery&) = default;
};

/// A kind of vehicle: its panels as surveyed. Versions are kept, never overwritten.
struct VehicleModel {
  std::string id;
  std::string name;
  int version = 1;
  std::vector<Panel> panels;
  std::vector<Scenery> scenery;  ///< may be empty

  friend bool operator==(const VehicleModel&, const VehicleModel&) = default;
};

/// The panel of that id, or null. Lives as long as the model.
const Panel* find_panel(const VehicleModel& vehicle, std::string_view id);

}  // namespace film::shop
