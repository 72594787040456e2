#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/result.h"
#include "cutting/plan.h"
#include "cutting/profile.h"
#include "formats/hpgl.h"

namespace film::cutting {

/// What the machine is sent for one contour.
struct CutPart {
  std::size_t contour = 0;  ///< index into CutPlan::contours
  std::string bytes;
  formats::HpglPoint end;  ///< where the knife is when it has cut it
  double cut_mm = 0;       ///< length of the line cut, overcut included

  friend bool operator==(const CutPart&, const CutPart&) = default;
};

/// A plan as the machine is sent it, part by part: whole instructions each.
struct CutProgram {
  std::string opening;         ///< prefix, IN, pen, velocity, force, alignment stroke
  formats::HpglPoint aligned;  ///< where the knife is after the opening, when it has a stroke
  bool aligns = false;
  std::vector<CutPart> parts;  ///< in cutting order
  std::string closing;         ///< PU, SP0, suffix

  [[nodiscard]] std::string bytes() const;

  friend bool operator==(const CutProgram&, const CutProgram&) = default;
};

/// The plan part by part, or what is left of it: contours whose `done` is true are left out (empty:
/// none is done). Each contour whose blade now comes from elsewhere than planned, because those
/// before it are left out, is entered anew from where the blade points.
/// What stands between prefix and suffix is read back, and every position of the knife, up or
/// down, must lie on the media.
/// Errors: invalid_input, naming the piece that leaves the media.
Result<CutProgram> program_of(const CutPlan& plan, const MachineProfile& profile,
                              const std::vector<bool>& done = {});

}  // namespace film::cutting
