#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "base/result.h"
#include "server/json.h"

namespace film::server {

/// Reads the fields of a JSON object, strictly. The first fault is remembered and told by `done`;
/// after it everything reads as its default, so callers read straight on and check once.
class Fields {
 public:
  /// `where` is put before field names in errors: "scope[3]."; may be empty.
  Fields(const Json& object, std::string where);

  /// Text on one line, of at most `longest` bytes of UTF-8.
  std::string text(const std::string& name, std::size_t longest);
  std::string text_or(const std::string& name, std::size_t longest, std::string fallback);
  /// The same, of one or more lines.
  std::string lines(const std::string& name, std::size_t longest);
  std::string lines_or(const std::string& name, std::size_t longest, std::string fallback);
  bool flag(const std::string& name);
  double number_or(const std::string& name, double low, double high, double fallback);
  std::int64_t integer_or(const std::string& name, std::int64_t low, std::int64_t high,
                          std::int64_t fallback);
  bool truth_or(const std::string& name, bool fallback);
  std::optional<std::int64_t> integer_if(const std::string& name);
  /// The items of an array of `least` to `most` things; empty after a fault.
  const Json& array(const std::string& name, std::size_t least, std::size_t most);

  /// An object, read by somebody else; null when it is missing or after a fault.
  const Json& object_or_null(const std::string& name);

  /// Reports a fault of the caller's own finding.
  void refuse(const std::string& name, std::string what, std::string remedy);
  /// Takes over the fault of fields read inside this object.
  void take(const Fields& inner);

  /// The first fault, or one that names a field nobody asked for.
  [[nodiscard]] Result<void> done() const;

 private:
  enum class Breaks { none, allowed };
  std::string read(const std::string& name, std::size_t longest, std::string fallback,
                   Breaks breaks);
  const Json* find(const std::string& name);
  const Json* need(const std::string& name);

  const Json& object_;
  std::string where_;
  std::set<std::string> asked_;
  std::optional<Error> fault_;
};

/// A parameter of the query as a whole number; `fallback` where it was not sent.
/// Errors: invalid_input.
Result<std::int64_t> number_parameter(const std::string& text, const std::string& name,
                                      std::int64_t low, std::int64_t high, std::int64_t fallback);

/// The body of a request as a JSON object. Errors: invalid_input.
Result<Json> body_of(std::string_view body);

}  // namespace film::server
