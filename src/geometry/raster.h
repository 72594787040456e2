#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace film {

/// A picture of grey values, row by row from the top; 0 is black. As files hold them, the values
/// follow the sRGB curve, not the light itself.
struct GreyRaster {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> values;  ///< width * height

  [[nodiscard]] std::uint8_t at(int x, int y) const {
    return values[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(x)];
  }

  friend bool operator==(const GreyRaster&, const GreyRaster&) = default;
};

}  // namespace film
