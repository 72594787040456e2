#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "geometry/box.h"
#include "shop/offcut.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Film that is left over and worth keeping.
struct Rest {
  std::string roll;  ///< or offcut that it is part of
  std::string film;
  std::string lot;
  std::string run;
  Box box;  ///< where it lies in what was cut, mm

  friend bool operator==(const Rest&, const Rest&) = default;
};

/// The rests of a cutting run that is over, the largest first: rectangles of what the run used that
/// no piece lies in. Errors: not_found, conflict (it is not over), io.
Result<std::vector<Rest>> rests_of_run(Workbench& workbench, const std::string& run);

/// An offcut brought to the shelf by a person.
struct OffcutEntry {
  std::string film;
  std::string lot;
  Polygon outline;  ///< as drawn or measured, mm
  Angle grain;      ///< how the roll ran in that drawing; 0: along x
  std::string from;
  std::string run;
  std::string place;
  std::string who = "shop";
};

/// Puts the offcut on the shelf. Errors: not_found (film), those of shop::check(Offcut), io.
Result<shop::Offcut> keep_offcut(Workbench& workbench, const OffcutEntry& entry);

}  // namespace film::workbench
