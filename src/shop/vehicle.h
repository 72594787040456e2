#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
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
  /// Prepared by a person, cut as they are under any film; empty: made from the surface.
  std::vector<pattern::Piece> pieces;

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
  int based_on = 0;    ///< the version that was changed into this one; 0: none
  std::string author;  ///< who made it; may be empty
  std::string note;    ///< what is new and why
  std::string made;    ///< RFC 3339, UTC; may be empty
  std::vector<Panel> panels;
  std::vector<Scenery> scenery;  ///< may be empty

  friend bool operator==(const VehicleModel&, const VehicleModel&) = default;
};

/// What the shop makes of a version.
enum class Standing {
  accepted,  ///< new jobs use the newest of these
  proposed,  ///< sent in for a decision, such as a change that an installation needed
  declined,  ///< kept, but not used
  removed,   ///< its number stays taken, its panels are gone
};

/// The standings that a person may give a version of that standing now: a proposal is accepted or
/// declined, what is accepted or declined may change places, and what no job uses may be removed.
std::vector<Standing> standings_after(Standing now);

/// Checks a vehicle as it may come from another shop. Errors: invalid_input naming panel, piece or
/// field (an id that is empty, too long or there twice; a twin that is not there; a surface with
/// an index past its points or a point that is not finite; a boundary path past its surface; a
/// piece whose stretches are broken or whose original is not there); too_large.
Result<void> check(const VehicleModel& vehicle);

/// The panel of that id, or null. Lives as long as the model.
const Panel* find_panel(const VehicleModel& vehicle, std::string_view id);

}  // namespace film::shop
