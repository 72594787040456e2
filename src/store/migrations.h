#pragma once

#include <string_view>
#include <vector>

namespace film::store {

/// One step from a form of the book to the next. Steps are only ever added.
struct Migration {
  int version = 0;  ///< the form it leads to, 1, 2, 3 ...
  std::string_view name;
  std::vector<std::string_view> shop;  ///< statements on what is the shop's own
  /// Statements on what the shops of a chain share (films, vehicles, kept bytes); they run first.
  std::vector<std::string_view> library = {};
};

/// All steps, in order; docs/formats/book.md describes the tables. The statements are SQL that
/// SQLite and PostgreSQL share, with the types INTEGER (a lone INTEGER PRIMARY KEY counts up by
/// itself), DOUBLE PRECISION, TEXT and BLOB, and with triggers of one shape only:
/// `CREATE TRIGGER name BEFORE act ON table [WHEN condition] BEGIN SELECT RAISE(ABORT, 'why');
/// END`. detail/dialect.h turns them into PostgreSQL's words. Words that PostgreSQL reserves (user,
/// order, end, limit, offset) are no names of columns.
const std::vector<Migration>& migrations();

}  // namespace film::store
