#include <array>
#include <system_error>

#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include "base/text.h"
#include "store/content_hash.h"
#include "store/detail/sql_store.h"
#include "store/store.h"

namespace film::store {
namespace {

using soci::into;
using soci::use;

constexpr int kApplicationId = 0x46574b42;  // "FWKB" in the file's header marks a book of ours
constexpr int kBusySeconds = 10;
constexpr std::size_t kConnections = 4;

// Primary result codes of SQLite (sqlite.org/rescode.html); extended ones carry them in the low
// byte.
enum SqliteCode { kBusy = 5, kLocked = 6, kReadOnly = 8, kCorrupt = 11, kFull = 13, kNotADb = 26 };

Error error_of(const soci::soci_error& error, const std::string& where) {
  const auto* sqlite = dynamic_cast<const soci::sqlite3_soci_error*>(&error);
  switch (sqlite == nullptr ? 0 : sqlite->result() & 0xff) {
    case kBusy:
    case kLocked:
      return {ErrorCode::conflict, "another program holds the book", where,
              "Close the other program, or try again in a moment."};
    case kReadOnly:
      return {ErrorCode::io, "the book cannot be written", where,
              "Give this user write permission on the file and its folder."};
    case kFull:
      return {ErrorCode::io, "the disk is full; nothing was changed", where,
              "Free some space, then do it again."};
    case kCorrupt:
    case kNotADb:
      return {ErrorCode::io, "this is no book, or it is damaged", where, "Restore a backup."};
    default: return {ErrorCode::io, error.get_error_message(), where, ""};
  }
}

template <class T>
T pragma(soci::session& sql, const std::string& name) {
  T value{};
  sql << "PRAGMA " + name, into(value);
  return value;
}

void configure(soci::session& sql) {
  pragma<std::string>(sql, "journal_mode = WAL");
  sql << "PRAGMA synchronous = FULL";  // what was acknowledged survives a power cut
  sql << "PRAGMA foreign_keys = ON";
  sql << "PRAGMA trusted_schema = OFF";
}

std::vector<std::string> column(soci::session& sql, const std::string& query) {
  std::string value;
  soci::statement statement = (sql.prepare << query, into(value));
  statement.execute();
  std::vector<std::string> values;
  while (statement.fetch()) values.push_back(value);
  return values;
}

bool has_table(soci::session& sql, const std::string& name) {
  int count = 0;
  sql << "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = :name", into(count),
      use(name);
  return count != 0;
}

Result<void> check_ours(soci::session& sql, const std::string& where) {
  int tables = 0;
  sql << "SELECT count(*) FROM sqlite_master", into(tables);
  if (tables != 0 && pragma<int>(sql, "application_id") != kApplicationId) {
    return fail(ErrorCode::unsupported, "this database belongs to another program", where,
                "Choose another folder for the shop's book.");
  }
  if (has_table(sql, "migrations")) {
    if (auto known = detail::check_form(detail::form_of(sql), where); !known) return known;
  }
  if (const auto state = pragma<std::string>(sql, "quick_check(1)"); state != "ok") {
    return fail(ErrorCode::io, "the book is damaged: " + state, where, "Restore a backup.");
  }
  return {};
}

/// All missing steps in one transaction: a kill between them leaves the old form.
void migrate(soci::session& sql) {
  sql << "BEGIN IMMEDIATE";
  try {
    if (!has_table(sql, "migrations")) {
      sql << format("PRAGMA application_id = {}", kApplicationId);
      sql << "CREATE TABLE migrations (version INTEGER PRIMARY KEY, name TEXT NOT NULL)";
    }
    detail::migrate(sql, detail::sqlite_dialect(), detail::Half::both);
    sql << "COMMIT";
  } catch (...) {
    sql << "ROLLBACK";
    throw;
  }
}

class SqliteStore final : public detail::SqlStore {
 public:
  explicit SqliteStore(std::string where) : SqlStore(std::move(where), detail::sqlite_dialect()) {}

  Result<void> open(const std::string& database, std::size_t connections) {
    try {
      const std::string parameters = format("db=\"{}\" timeout={}", database, kBusySeconds);
      for (std::size_t i = 0; i < connections; ++i) {
        auto session = std::make_unique<soci::session>(soci::sqlite3, parameters);
        if (i == 0) {
          if (auto ours = check_ours(*session, where_); !ours) return ours;
        }
        configure(*session);
        if (i == 0) migrate(*session);
        keep(std::move(session));
      }
    } catch (const soci::soci_error& error) {
      return Failure(to_error(error));
    }
    return {};
  }

  Result<void> check_integrity() override {
    return with_session([this](soci::session& sql) -> Result<void> {
      if (const auto state = pragma<std::string>(sql, "integrity_check(1)"); state != "ok") {
        return fail(ErrorCode::io, "the book is damaged: " + state, where_, "Restore a backup.");
      }
      std::string table;
      sql << "PRAGMA foreign_key_check", into(table);
      if (sql.got_data()) {
        return fail(ErrorCode::io, "a record names another that is not there, in " + table, where_,
                    "Restore a backup.");
      }
      for (const std::string& hash : column(sql, "SELECT hash FROM blobs")) {
        if (const auto bytes = dialect_.bytes(sql, hash); bytes && content_hash(*bytes) == hash) {
          continue;
        }
        return fail(ErrorCode::io, "kept bytes no longer have their hash: the book is damaged",
                    where_ + ", blob " + hash, "Restore a backup.");
      }
      return {};
    });
  }

  Result<void> back_up(const std::filesystem::path& file) override {
    std::error_code ignored;
    if (std::filesystem::exists(file, ignored)) {
      return fail(ErrorCode::conflict, "the backup's file is there already", file.string(),
                  "Choose another name.");
    }
    return with_session([&file](soci::session& sql) -> Result<void> {
      const std::string name = file.string();
      sql << "VACUUM INTO :name", use(name);
      return {};
    });
  }

 protected:
  void begin(soci::session& sql, Access access) override {
    sql << (access == Access::change ? "BEGIN IMMEDIATE" : "BEGIN");
  }

  std::vector<std::string> tables(soci::session& sql) override {
    return column(sql,
                  "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE"
                  " 'sqlite_%' ORDER BY name");
  }

  std::string row_as_json(soci::session& sql, const std::string& table) override {
    std::string fields;
    for (const std::string& name :
         column(sql, format("SELECT name FROM pragma_table_info('{}') ORDER BY cid", table))) {
      // Its own JSON functions round to 15 digits.
      fields += format(
          "{0}'{1}', CASE typeof(t.{1}) WHEN 'real' THEN json(printf('%!.17g', t.{1}))"
          " ELSE t.{1} END",
          fields.empty() ? "" : ", ", name);
    }
    return format("json_object({})", fields);
  }

  Error to_error(const soci::soci_error& error) const override { return error_of(error, where_); }
};

Result<std::unique_ptr<Store>> opened(const std::string& database, std::size_t connections) {
  auto store = std::make_unique<SqliteStore>(database);
  if (auto done = store->open(database, connections); !done) return Failure(done.error());
  return store;
}

}  // namespace

Result<std::unique_ptr<Store>> open_sqlite(const std::filesystem::path& file) {
  const std::string name = file.string();
  if (name.find('"') != std::string::npos) {
    return fail(ErrorCode::invalid_input, "a book's path cannot hold a quotation mark", name,
                "Choose another folder.");
  }
  return opened(name, kConnections);
}

Result<std::unique_ptr<Store>> open_in_memory() { return opened(":memory:", 1); }

}  // namespace film::store
