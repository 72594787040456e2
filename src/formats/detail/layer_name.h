#pragma once

#include <string>
#include <string_view>

namespace film::formats::detail {

/// The name with everything but letters, digits, '_' and '-' replaced by '_'; never empty.
inline std::string layer_name(std::string_view name) {
  std::string plain(name);
  for (char& c : plain) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '_' || c == '-';
    if (!kept) c = '_';
  }
  return plain.empty() ? "_" : plain;
}

}  // namespace film::formats::detail
