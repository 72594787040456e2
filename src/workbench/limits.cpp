#include "workbench/limits.h"

#include <algorithm>
#include <map>
#include <set>
#include <system_error>

#include "host/files.h"
#include "workbench/detail/shipped_limits.h"

namespace film::workbench {
namespace {

constexpr std::size_t kLargest = 8U << 20U;

Result<std::vector<std::filesystem::path>> own_files(const std::filesystem::path& folder) {
  std::vector<std::filesystem::path> files;
  std::error_code error;
  if (folder.empty() || !std::filesystem::is_directory(folder, error)) return files;
  for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
    if (entry.path().extension() == ".json") files.push_back(entry.path());
  }
  if (error) return fail(ErrorCode::io, error.message(), folder.string());
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

Result<exchange::LimitTables> limit_tables(const std::filesystem::path& folder) {
  auto tables = exchange::read_limits(shipped_limits());
  if (!tables) return tables;
  const auto files = own_files(folder);
  if (!files) return Failure(files.error());
  for (const auto& file : *files) {
    const auto bytes = host::read_file(file, kLargest);
    if (!bytes) return Failure(bytes.error());
    auto own = exchange::read_limits(*bytes);
    if (!own) {
      Error error = own.error();
      error.where = file.string() + ", " + error.where;
      return Failure(std::move(error));
    }
    std::set<std::string> places;
    for (const auto& row : own->windows) places.insert(row.place);
    std::erase_if(tables->windows, [&](const auto& row) { return places.contains(row.place); });
    tables->windows.insert(tables->windows.end(), own->windows.begin(), own->windows.end());
    tables->lamps.insert(tables->lamps.end(), own->lamps.begin(), own->lamps.end());
  }
  return tables;
}

std::vector<PlaceLine> places_in(const exchange::LimitTables& tables) {
  std::map<std::string, PlaceLine> places;
  for (const auto& row : tables.windows) {
    PlaceLine& line =
        places.try_emplace(row.place, PlaceLine{row.place, row.place_name, false}).first->second;
    line.read = line.read || row.confidence == glazing::Confidence::read;
  }
  std::vector<PlaceLine> lines;
  for (auto& [id, line] : places) lines.push_back(std::move(line));
  std::sort(lines.begin(), lines.end(),
            [](const PlaceLine& a, const PlaceLine& b) { return a.name < b.name; });
  return lines;
}

}  // namespace film::workbench
