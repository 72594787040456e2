#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"
#include "exchange/limits_json.h"

namespace film::workbench {

/// The table that comes with the program, followed by the shop's own: every `*.json` of the folder
/// `limits` beside the shop's book (docs/formats/limits.md). A place that the shop's own files name
/// replaces the shipped rows of that place, so that a shop can put right what it has read itself.
/// `folder` may be empty or missing: only the shipped table.
/// Errors: those of exchange::read_limits, naming the file; io.
Result<exchange::LimitTables> limit_tables(const std::filesystem::path& folder);

/// A place that the tables know.
struct PlaceLine {
  std::string id;
  std::string name;
  bool read = false;  ///< a row of it was read in the text of the law
};

/// By name.
std::vector<PlaceLine> places_in(const exchange::LimitTables& tables);

}  // namespace film::workbench
