#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.h"

namespace film::host {

/// The whole file as bytes. Errors: not_found, io, too_large (past `limit` bytes); each names the
/// path.
Result<std::string> read_file(const std::filesystem::path& path,
                              std::size_t limit = std::size_t{1} << 30);

/// Replaces the file in one step: a reader sees the old bytes or the new, never half of them.
/// Errors: io, naming the path.
Result<void> write_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace film::host
