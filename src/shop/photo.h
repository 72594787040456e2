#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace film::shop {

/// A photo of a job's vehicle. Its bytes are kept by content hash; the line is appended, never
/// changed.
struct Photo {
  std::string job;
  std::string panel;  ///< may be empty: the whole vehicle
  std::string about;  ///< "survey", "edge lifts at the corner"
  std::string hash;   ///< of the bytes
  std::string type;   ///< "image/jpeg" or "image/png", as the bytes say
  std::string who;
  std::string at;  ///< RFC 3339, UTC

  friend bool operator==(const Photo&, const Photo&) = default;
};

/// "image/jpeg" or "image/png" as the first bytes say, else empty.
/// Source: ITU-T T.81, B.1.1.3; ISO/IEC 15948, 5.2.
std::string_view photo_type(std::string_view bytes);

/// Errors: invalid_input naming the field.
Result<void> check(const Photo& photo);

}  // namespace film::shop
