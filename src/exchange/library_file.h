#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shop/vehicle.h"

namespace film::exchange {

/// A version of a vehicle with what the shop that wrote it makes of it.
struct LibraryVersion {
  shop::VehicleModel model;
  shop::Standing standing = shop::Standing::accepted;

  friend bool operator==(const LibraryVersion&, const LibraryVersion&) = default;
};

/// One vehicle with some or all of its versions, as shops pass it on.
struct VehicleLibrary {
  std::string id;
  std::vector<LibraryVersion> versions;  ///< ascending; none of them removed

  friend bool operator==(const VehicleLibrary&, const VehicleLibrary&) = default;
};

/// The library as one file: a zip of JSON, SVG and OBJ (docs/formats/library.md). The same library
/// gives the same bytes; what was written reads back equal to the last bit.
std::string write_library(const VehicleLibrary& library);

/// Reads a library file and checks every version (shop::check) and drawing. All or an error.
/// Errors, naming `file`, entry and field: those of formats::read_zip; invalid_input (an entry that
/// is missing, that is not what it should be, a drawing that does not show its piece; versions not
/// ascending), unsupported (a later version of the form, a drawing with entities of its own),
/// too_large.
Result<VehicleLibrary> read_library(std::string_view bytes, std::string_view file = "library");

}  // namespace film::exchange
