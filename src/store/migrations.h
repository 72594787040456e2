#pragma once

#include <string_view>
#include <vector>

namespace film::store {

/// One step from a form of the book to the next. Steps are only ever added.
struct Migration {
  int version = 0;  ///< the form it leads to, 1, 2, 3 ...
  std::string_view name;
  std::vector<std::string_view> statements;
};

/// All steps, in order. The statements keep to SQL that SQLite and PostgreSQL share, so far as it
/// reaches; docs/formats/book.md describes the tables.
const std::vector<Migration>& migrations();

}  // namespace film::store
