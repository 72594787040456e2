#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace film::formats::detail {

/// One group of a DXF file: a code and its value, as text.
struct DxfGroup {
  int code = 0;
  std::string_view value;
  std::size_t line = 0;  ///< of the value
};

/// One entity: its groups after the 0 group. Views into the file's bytes.
struct DxfEntity {
  std::string_view type;
  std::size_t line = 0;
  std::vector<DxfGroup> groups;

  [[nodiscard]] const DxfGroup* find(int code) const;
  [[nodiscard]] std::string_view text(int code) const;
  /// Errors: invalid_input when the value is not a finite number.
  [[nodiscard]] Result<double> number(int code, double fallback) const;
  [[nodiscard]] Result<int> whole(int code, int fallback) const;
  [[nodiscard]] std::string where() const;  ///< "LINE at line 120"
};

struct DxfBlock {
  DxfEntity head;
  std::vector<DxfEntity> entities;
};

struct DxfFile {
  std::optional<int> units;  ///< $INSUNITS
  std::set<std::string_view> hidden_layers;
  std::map<std::string_view, DxfBlock> blocks;
  std::vector<DxfEntity> entities;
};

Result<double> finite_number(const DxfGroup& group);

/// Splits an ASCII DXF into what the reader needs. Errors: as read_dxf.
Result<DxfFile> split_dxf(std::string_view bytes);

}  // namespace film::formats::detail
