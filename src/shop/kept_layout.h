#pragma once

#include <cstdint>
#include <string>

#include "base/units.h"

namespace film::shop {

/// What of one film of a job is cut from one roll or offcut: a layout that passed the independent
/// check. A film of a job has one for each roll and offcut it uses. The placements themselves are
/// the document named by `sheet` (docs/formats/layout.md).
struct KeptLayout {
  std::string job;
  std::string film;
  std::string roll;  ///< or the offcut
  Mm width;          ///< of the roll
  Mm length;         ///< of the roll that it takes
  Mm gap;
  double piece_area = 0;  ///< mm^2
  std::uint64_t seed = 0;
  std::uint64_t iterations = 0;
  double seconds = 0;   ///< spent searching
  std::string made;     ///< RFC 3339, UTC
  std::string problem;  ///< content hash of what was asked
  std::string sheet;    ///< content hash of the layout
  std::string pieces;   ///< content hash of the pieces as they were laid

  friend bool operator==(const KeptLayout&, const KeptLayout&) = default;
};

/// The knife path of a kept layout. What goes to the plotter is kept byte for byte.
struct KeptCut {
  std::string job;
  std::string film;
  std::string roll;
  std::string sheet;    ///< content hash of the layout it cuts
  std::string profile;  ///< id of the knife profile
  double cut_mm = 0;
  double travel_mm = 0;
  Seconds estimated;
  std::string made;  ///< RFC 3339, UTC
  std::string path;  ///< content hash of the path for people and other programs
  std::string plot;  ///< content hash of the HP-GL

  friend bool operator==(const KeptCut&, const KeptCut&) = default;
};

}  // namespace film::shop
