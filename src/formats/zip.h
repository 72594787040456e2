#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace film::formats {

struct ZipEntry {
  std::string name;  ///< a path with '/', relative, without '.' and '..'
  std::string bytes;

  friend bool operator==(const ZipEntry&, const ZipEntry&) = default;
};

/// Past these a file is refused before anything of it is unpacked.
struct ZipLimits {
  std::size_t entries = 20'000;
  std::size_t entry_bytes = 256'000'000;
  std::size_t all_bytes = 1'000'000'000;
  double ratio = 250;  ///< unpacked to packed, of entries over a megabyte
};

/// All entries of a zip file, in its order; entries for folders are left out. Sizes are checked
/// against the limits both as stated and as they come out, checksums always.
/// Errors, naming `file` and entry: invalid_input (not a zip, truncated, damaged; a name that is
/// absolute, leads out of the folder, or is there twice, letters alike in any case), unsupported
/// (encrypted, a way of packing that is not known), too_large.
Result<std::vector<ZipEntry>> read_zip(std::string_view bytes, std::string_view file,
                                       const ZipLimits& limits = {});

/// A zip file with these entries, at least one, deflated, all dated 1980-01-01: the same entries
/// give the same bytes. Names must be such as read_zip accepts.
std::string write_zip(std::span<const ZipEntry> entries);

}  // namespace film::formats
