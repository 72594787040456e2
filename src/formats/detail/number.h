#pragma once

#include <string>

#include "base/text.h"

namespace film::formats::detail {

/// A number with at most `decimals` digits after the point and no needless zeros; never "-0".
inline std::string short_number(double value, int decimals) {
  std::string text = format("{:.{}f}", value, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

}  // namespace film::formats::detail
