#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Tables that go out as CSV; docs/formats/csv.md names their columns.
const std::vector<std::string>& csv_tables();

/// A table as CSV (formats/csv.h), its names of columns first. Errors: not_found (no such table),
/// io.
Result<std::string> export_csv(Workbench& workbench, const std::string& table);

/// What an import did.
struct Imported {
  std::size_t rows = 0;
};

/// Takes customers with their vehicles, rolls or installed pieces in, all of them or none: every
/// row is read and checked before anything is written. Errors: not_found (no such table, a film or
/// job that is not there), unsupported (a table that only goes out), invalid_input (those of
/// formats::read_csv, columns that are missing, cells that are no number or day), conflict (a
/// customer or roll that is there already, an event that was reported before), io; each names line
/// and column.
Result<Imported> import_csv(Workbench& workbench, const std::string& table, std::string_view bytes,
                            const std::string& who);

}  // namespace film::workbench
