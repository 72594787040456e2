#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

namespace soci {
class session;
}

namespace film::store::detail {

class Dialect;

/// A connection inside a transaction, as the parts of the book use it.
struct Sql {
  soci::session& session;
  const Dialect& dialect;
};

/// A pattern for LIKE ... ESCAPE '!' of texts that hold this one.
std::string holding(std::string_view text);

/// A stored value that this program cannot have written.
class Damaged : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace film::store::detail
