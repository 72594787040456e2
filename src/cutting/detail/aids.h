#pragma once

#include <vector>

#include "cutting/detail/contours.h"

namespace film::cutting::detail {

/// Lines in waste film that help the work, and what they are called. Each is an open line of its
/// own shape number, from `first` on; `names[k]` belongs to shape `first + k`.
struct AidLines {
  std::vector<Line> lines;
  std::vector<std::string> names;
  std::vector<std::string> unlabelled;  ///< pieces beside which there is no room for a label
};

/// Weed box, weed lines, labels and the sheet's end cut, as the profile's aids ask for them. None
/// comes nearer to a line of `job` than a clearance that leaves room for the blade.
AidLines aid_lines(const std::vector<Shape>& shapes, const std::vector<Line>& lines,
                   const MachineProfile& profile, const Box& media);

/// The two marks at the seam between two frames: crosses, cut with the first, and squares round
/// them, cut with the second. Film that slipped in between shows at a glance. They lie in the bare
/// margins at the sides; empty where these are too narrow.
struct SeamMarks {
  std::vector<Line> crosses;
  std::vector<Line> squares;
};
SeamMarks seam_marks(double x, const MachineProfile& profile, std::size_t shape);

}  // namespace film::cutting::detail
