#pragma once

#include <string>
#include <string_view>
#include <utility>

#include <tl/expected.hpp>

namespace film {

/// What kind of failure; a boundary maps it to an exit code or an HTTP status.
enum class ErrorCode {
  invalid_input,  ///< the input breaks a stated rule; nothing was changed
  unsupported,    ///< well-formed, but something this program does not do
  not_found,      ///< a record or file that is not there
  conflict,       ///< someone else changed the record first
  too_large,      ///< past a stated limit
  cancelled,      ///< the caller asked to stop
  io,             ///< the disk, the device or the network failed
};

/// The stable name of a code, as it stands in JSON answers ("invalid_input").
std::string_view name_of(ErrorCode code);

/// An expected failure, told so that a person can act on it.
struct Error {
  ErrorCode code = ErrorCode::invalid_input;
  std::string what;    ///< what is wrong, one sentence without a full stop
  std::string where;   ///< file, item, line, vertex: "door.obj line 12"; may be empty
  std::string remedy;  ///< what to do about it; may be empty

  /// One line: "door.obj line 12: vertex index 9 is past the last vertex (8). Re-export the mesh."
  [[nodiscard]] std::string message() const;

  friend bool operator==(const Error&, const Error&) = default;
};

/// A value or an Error. Ignoring one is a compile error under -Werror.
template <class T>
using Result = tl::expected<T, Error>;

using Failure = tl::unexpected<Error>;

/// Builds the failing side of a Result.
inline Failure fail(ErrorCode code, std::string what, std::string where = {},
                    std::string remedy = {}) {
  return Failure(Error{code, std::move(what), std::move(where), std::move(remedy)});
}

}  // namespace film
