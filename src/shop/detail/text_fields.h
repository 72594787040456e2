#pragma once

#include <initializer_list>
#include <string>

#include "base/result.h"
#include "base/text.h"

namespace film::shop::detail {

/// What a text of a record must be.
struct TextField {
  const std::string& value;
  const char* name;
  std::size_t least = 1;   ///< bytes; 0: may be empty
  std::size_t most = 400;  ///< bytes
};

/// Errors: invalid_input, naming the first field that is too short or too long.
inline Result<void> check(std::initializer_list<TextField> fields) {
  for (const TextField& field : fields) {
    if (field.value.size() < field.least) {
      return fail(ErrorCode::invalid_input,
                  field.value.empty() ? format("'{}' is missing", field.name)
                                      : format("'{}' is too short", field.name),
                  field.name, format("Write at least {} letters.", field.least));
    }
    if (field.value.size() > field.most) {
      return fail(ErrorCode::invalid_input, format("'{}' is too long", field.name), field.name,
                  format("Use at most {} letters.", field.most));
    }
  }
  return {};
}

}  // namespace film::shop::detail
