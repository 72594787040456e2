#pragma once

#include "cutting/profile.h"
#include "formats/hpgl.h"
#include "geometry/box.h"
#include "geometry/vec.h"

namespace film::cutting {

/// How the roll frame (mm) and the machine's own units map to each other: calibration first, then
/// mirror, quarter turn, and the machine's origin at its corner of the media.
class MachineFrame {
 public:
  MachineFrame(const MachineProfile& profile, const Box& media);

  /// The nearest plotter unit.
  [[nodiscard]] formats::HpglPoint to_machine(Vec2 roll) const;
  [[nodiscard]] Vec2 to_roll(formats::HpglPoint machine) const;

 private:
  Vec2 origin_;               // roll frame
  Vec2 column_x_, column_y_;  // machine units for one mm along x and y of the roll
};

}  // namespace film::cutting
