#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>

#include "base/result.h"
#include "store/book.h"

namespace film::store {

/// A place that keeps the shop's book. Every use is one transaction: what `change` was given
/// happens whole or not at all, and what it returned as done is on the disk. Thread-safe.
class Store {
 public:
  virtual ~Store() = default;

  /// Calls `use(book)`, which only reads. Returns what it returns.
  template <class Use>
  auto look(Use use) {
    return run<Use>(Access::look, std::move(use));
  }

  /// Calls `use(book)` and keeps its changes when it succeeds; a failed Result or an exception
  /// undoes them. Errors of the store itself: io; conflict when it stays locked too long.
  template <class Use>
  auto change(Use use) {
    return run<Use>(Access::change, std::move(use));
  }

  /// Whether the book can be read and is whole: the database's own check, every reference of one
  /// record to another, the hash of all kept bytes, and in a database server that what guards the
  /// book (constraints, triggers) is in force. The error says what is wrong.
  virtual Result<void> check_integrity() = 0;
  /// Every row of every table as one line of JSON, as of one moment; tables by name, rows in their
  /// order. Left out: kept bytes (Book::blob has them by the hashes of table "blobs") and what
  /// opens doors (passwords, sessions, links).
  using Row = std::function<Result<void>(const std::string& table, const std::string& json)>;
  virtual Result<void> each_row(const Row& row) = 0;

  /// A copy of the whole book as of now, made while others use it: a book in one file, or what
  /// pg_dump writes of the shop's schema and the shared one. Errors: io, conflict (the file is
  /// there already), unsupported (pg_dump is not installed).
  virtual Result<void> back_up(const std::filesystem::path& file) = 0;

 protected:
  enum class Access { look, change };
  virtual Result<void> transact(Access access, const std::function<Result<void>(Book&)>& use) = 0;

 private:
  template <class T>
  struct IsResult : std::false_type {};
  template <class T>
  struct IsResult<Result<T>> : std::true_type {};

  // A use may return a plain value, nothing, or a Result of either; callers always get a Result.
  template <class Use>
  auto run(Access access, Use use) {
    using Answer = std::invoke_result_t<Use&, Book&>;
    if constexpr (std::is_void_v<Answer>) {
      return transact(access, [&use](Book& book) -> Result<void> {
        use(book);
        return {};
      });
    } else if constexpr (std::is_same_v<Answer, Result<void>>) {
      return transact(access, [&use](Book& book) { return use(book); });
    } else if constexpr (IsResult<Answer>::value) {
      std::optional<Answer> answer;
      const Result<void> done = transact(access, [&](Book& book) -> Result<void> {
        answer.emplace(use(book));
        if (!*answer) return Failure(answer->error());
        return {};
      });
      return done ? std::move(*answer) : Answer(Failure(done.error()));
    } else {
      std::optional<Answer> answer;
      const Result<void> done = transact(access, [&](Book& book) -> Result<void> {
        answer.emplace(use(book));
        return {};
      });
      return done ? Result<Answer>(std::move(*answer)) : Result<Answer>(Failure(done.error()));
    }
  }
};

/// Opens (or makes) a book in one SQLite file and brings it to the present form.
/// Errors: io (not a database, no permission, disk full, damaged), unsupported (written by a newer
/// program; a book that is not ours), each naming the file.
Result<std::unique_ptr<Store>> open_sqlite(const std::filesystem::path& file);

/// Opens (or makes) the book of one shop of a chain in a PostgreSQL database:
/// `postgresql://user@host/database#shop` (a libpq URI; the shop is "main" when none is named).
/// Each shop has a schema of its own; films, vehicles and kept bytes are shared by all
/// (docs/decisions/0100-a-schema-a-shop.md). A connection that was cut is made again at the next
/// use. Errors: io, unsupported (as above; an old server), invalid_input (the shop's name).
Result<std::unique_ptr<Store>> open_postgres(const std::string& address);

/// Puts what back_up wrote of the shop that `address` names into a database that has no book yet,
/// all of it or nothing. Errors: not_found (no such file), conflict (there is a book already:
/// nothing is overwritten), io (the backup is damaged; the server), invalid_input (a backup of
/// another shop), unsupported (pg_restore is not installed; a book of a newer program).
Result<void> restore_postgres(const std::filesystem::path& backup, const std::string& address);

/// Whether the name of a book is an address of open_postgres.
bool is_postgres(std::string_view book);

/// A book that lives only in memory.
Result<std::unique_ptr<Store>> open_in_memory();

}  // namespace film::store
