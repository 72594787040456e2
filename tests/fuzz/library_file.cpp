// Any bytes either become a library that writes and reads back equal, or one error. The first byte
// chooses whether the rest is the file itself or one entry of an otherwise sound file, so that the
// readers behind the checksums are reached too.

#include "exchange/library_file.h"

#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "formats/zip.h"
#include "pattern/edges.h"

namespace {

film::exchange::VehicleLibrary sample() {
  film::shop::VehicleModel model;
  model.id = model.name = "v";
  film::shop::Panel panel;
  panel.id = "p";
  panel.surface = {{{0, 0, 0}, {9, 0, 0}, {0, 9, 0}}, {{0, 1, 2}}};
  panel.pieces = {film::pattern::piece_from_outline(
      "p", *film::make_polygon({{0, 0}, {30, 0}, {30, 20}, {0, 20}}))};
  model.panels = {panel};
  return {"v", {{model, film::shop::Standing::accepted}}};
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace film;
  if (size == 0) return 0;
  static const auto entries = *formats::read_zip(exchange::write_library(sample()), "sample");
  const std::string_view rest(reinterpret_cast<const char*>(data) + 1, size - 1);
  std::string bytes(rest);
  if (const std::size_t which = data[0] % (entries.size() + 1); which < entries.size()) {
    auto changed = entries;
    changed[which].bytes = rest;
    bytes = formats::write_zip(changed);
  }
  const auto read = exchange::read_library(bytes);
  if (!read) return 0;
  const auto again = exchange::read_library(exchange::write_library(*read));
  if (!again || !(*again == *read)) std::abort();
  return 0;
}
