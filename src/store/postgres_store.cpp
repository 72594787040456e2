#include <algorithm>
#include <array>
#include <cctype>
#include <optional>

#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>

#include "base/text.h"
#include "store/detail/pg_tools.h"
#include "store/detail/sql_store.h"
#include "store/store.h"

namespace film::store {
namespace {

using soci::into;
using soci::use;

constexpr std::size_t kConnections = 4;
constexpr int kOldestServer = 120000;  // version 12

// Names a lock of the whole database that whoever changes tables holds: "FWKB".
constexpr int kMigrationLock = 0x46574b42;

/// The parts of `postgresql://user@host/database?options#shop`.
struct Address {
  std::string connection;  ///< what libpq is given
  std::string shop = "main";
  std::string where;  ///< for messages: no user, no password, no options
};

Result<Address> read_address(const std::string& text) {
  Address address;
  const std::size_t hash = text.find('#');
  address.connection = text.substr(0, hash);
  if (hash != std::string::npos) address.shop = text.substr(hash + 1);
  std::string place = address.connection.substr(0, address.connection.find('?'));
  const std::size_t host = place.find("://") + 3;
  if (const std::size_t at = place.rfind('@'); at != std::string::npos) {
    place.erase(host, at + 1 - host);
  }
  address.where = format("{}#{}", place, address.shop);
  const bool plain = std::all_of(address.shop.begin(), address.shop.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
  });
  if (!plain || address.shop.empty() || address.shop.size() > 40) {
    return fail(ErrorCode::invalid_input,
                "a shop's name is 1 to 40 of the letters a to z, digits and _", address.where,
                "Write it like postgresql://host/database#north");
  }
  return address;
}

/// The schema of what the shops share.
constexpr const char* kLibrary = "filmwright_library";

std::string schema_of(const Address& address) { return "shop_" + address.shop; }

bool exists(soci::session& sql, const std::string& schema, const std::string& table) {
  int count = 0;
  sql << "SELECT count(*) FROM pg_tables WHERE schemaname = :schema AND tablename = :name",
      into(count), use(schema), use(table);
  return count != 0;
}

class PostgresStore final : public detail::SqlStore {
 public:
  explicit PostgresStore(Address address)
      : SqlStore(address.where, detail::postgres_dialect()), address_(std::move(address)) {}

  Result<void> open() {
    try {
      for (std::size_t i = 0; i < kConnections; ++i) {
        auto session = std::make_unique<soci::session>(soci::postgresql, address_.connection);
        if (i == 0) {
          if (auto ready = prepare(*session); !ready) return ready;
        }
        configure(*session);
        keep(std::move(session));
      }
    } catch (const soci::soci_error& error) {
      return Failure(to_error(error));
    }
    return {};
  }

  Result<void> check_integrity() override {
    return with_session([this](soci::session& sql) -> Result<void> {
      begin_alive(sql, Access::look);
      auto whole = look_through(sql);
      sql << "ROLLBACK";
      return whole;
    });
  }

  Result<void> back_up(const std::filesystem::path& file) override {
    std::error_code ignored;
    if (std::filesystem::exists(file, ignored)) {
      return fail(ErrorCode::conflict, "the backup's file is there already", file.string(),
                  "Choose another name.");
    }
    const auto done =
        detail::run_pg_tool("pg_dump",
                            {"--format=custom", "--no-password", "--schema=" + schema_of(address_),
                             format("--schema={}", kLibrary), "--file=" + file.string()},
                            address_.connection, where_);
    if (done) return {};
    std::filesystem::remove(file, ignored);  // half a backup is none
    return Failure(done.error());
  }

 protected:
  void begin(soci::session& sql, Access access) override {
    if (access == Access::look) {
      sql << "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY";
      return;
    }
    // Writers of one shop queue, whichever process they are in; those of other shops go on.
    sql << "BEGIN";
    sql << "SELECT pg_advisory_xact_lock(hashtextextended(:shop, 0))", use(address_.shop);
  }

  bool revive(soci::session& sql) override {
    const auto* backend = static_cast<soci::postgresql_session_backend*>(sql.get_backend());
    if (backend != nullptr && PQstatus(backend->conn_) == CONNECTION_OK) return false;
    // An attempt that failed leaves a session without any connection.
    if (backend != nullptr) sql.close();
    sql.open(soci::postgresql, address_.connection);
    configure(sql);
    return true;
  }

  std::vector<std::string> tables(soci::session& sql) override {
    std::string name;
    const std::string shop = schema_of(address_);
    const std::string library = kLibrary;
    soci::statement statement =
        (sql.prepare << "SELECT DISTINCT tablename FROM pg_tables WHERE schemaname IN"
                        " (:shop, :library) ORDER BY 1",
         into(name), use(shop), use(library));
    statement.execute();
    std::vector<std::string> tables;
    while (statement.fetch()) tables.push_back(name);
    return tables;
  }

  std::string row_as_json(soci::session&, const std::string&) override {
    return "row_to_json(t)::text";
  }

  Error to_error(const soci::soci_error& error) const override {
    const auto* postgres = dynamic_cast<const soci::postgresql_soci_error*>(&error);
    const std::string state = postgres == nullptr ? "" : postgres->sqlstate();
    const auto is = [&state](std::string_view start) { return state.rfind(start, 0) == 0; };
    // Classes and codes: PostgreSQL documentation, appendix A.
    if (is("23505") || is("40") || is("55P03")) {
      return {ErrorCode::conflict, "someone else changed the same record first", where_,
              "Look at it as it is now, then decide again."};
    }
    if (is("53100")) {
      return {ErrorCode::io, "the disk of the database server is full; nothing was changed", where_,
              "Free some space there, then do it again."};
    }
    if (is("42501") || is("25006")) {
      return {ErrorCode::io, "the book cannot be written", where_,
              "Give this user the right to create and change tables in the database."};
    }
    if (is("08") || is("57P") || is("53300") || state.find_first_not_of(' ') == std::string::npos) {
      return {ErrorCode::io, format("the database server cannot be reached: {}", first_line(error)),
              where_, "See that it runs, then look whether the last change is there."};
    }
    return {ErrorCode::io, first_line(error), where_, ""};
  }

 private:
  static std::string first_line(const soci::soci_error& error) {
    const std::string text = error.get_error_message();
    return text.substr(0, text.find('\n'));
  }

  void configure(soci::session& sql) {
    sql << format("SET search_path TO {}, {}", schema_of(address_), kLibrary);
    sql << "SET client_encoding TO 'UTF8'";
    sql << "SET synchronous_commit TO on";  // what was acknowledged survives a power cut
    sql << "SET lock_timeout TO '10s'";
  }

  Failure damaged(const std::string& what, const std::string& where) const {
    return fail(ErrorCode::io, what, where_ + where, "Restore a backup.");
  }

  /// The first text of an answer; none without a row.
  static std::optional<std::string> first(soci::session& sql, const std::string& query) {
    std::string text;
    sql << query, into(text);
    return sql.got_data() ? std::optional(text) : std::nullopt;
  }

  Result<void> look_through(soci::session& sql) {
    if (const auto hash = first(
            sql, "SELECT hash FROM blobs WHERE hash <> encode(sha256(bytes), 'hex') LIMIT 1")) {
      return damaged("kept bytes no longer have their hash: the book is damaged",
                     ", blob " + *hash);
    }
    const std::string ours = format("('{}', '{}')", schema_of(address_), kLibrary);
    // What refuses to rewrite history, and what refuses a reference to nothing.
    if (const auto name =
            first(sql,
                  "SELECT t.tgname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid JOIN"
                  " pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname IN " +
                      ours + " AND t.tgenabled <> 'O' LIMIT 1")) {
      return damaged("a guard of the book is switched off", ", trigger " + *name);
    }
    if (const auto name =
            first(sql,
                  "SELECT c.relname FROM pg_index i JOIN pg_class c ON c.oid = i.indexrelid JOIN"
                  " pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname IN " +
                      ours + " AND NOT i.indisvalid LIMIT 1")) {
      return damaged("an index of the book is not valid", ", " + *name);
    }
    for (const std::string& query : orphan_queries(sql, ours)) {
      if (const auto table = first(sql, query)) {
        return damaged("a record names another that is not there, in " + *table, "");
      }
    }
    for (const std::string& table : tables(sql)) {
      // Reads every row whole, kept bytes but those hashed above.
      if (table != "blobs")
        (void)first(sql, format("SELECT coalesce(sum(length(t::text)), 0)::text FROM {} t", table));
    }
    return {};
  }

  /// For each foreign key a question that has an answer where a row refers to nothing.
  static std::vector<std::string> orphan_queries(soci::session& sql, const std::string& schemas) {
    std::string query;
    soci::statement statement =
        (sql.prepare << "SELECT format('SELECT %L::text FROM %s c WHERE %s AND NOT EXISTS (SELECT 1"
                        " FROM %s p WHERE %s) LIMIT 1', k.conrelid::regclass, k.conrelid::regclass,"
                        " string_agg(format('c.%I IS NOT NULL', a.attname), ' AND '),"
                        " k.confrelid::regclass,"
                        " string_agg(format('p.%I = c.%I', b.attname, a.attname), ' AND '))"
                        " FROM pg_constraint k JOIN pg_namespace n ON n.oid = k.connamespace"
                        " CROSS JOIN LATERAL unnest(k.conkey, k.confkey) AS pair (own, other)"
                        " JOIN pg_attribute a ON a.attrelid = k.conrelid AND a.attnum = pair.own"
                        " JOIN pg_attribute b ON b.attrelid = k.confrelid AND b.attnum = pair.other"
                        " WHERE k.contype = 'f' AND n.nspname IN " +
                            schemas + " GROUP BY k.oid, k.conrelid, k.confrelid",
         into(query));
    statement.execute();
    std::vector<std::string> queries;
    while (statement.fetch()) queries.push_back(query);
    return queries;
  }

  /// Checks the server and brings the library and the shop to the present form.
  Result<void> prepare(soci::session& sql) {
    int version = 0;
    std::string encoding;
    sql << "SELECT current_setting('server_version_num')::int, current_setting('server_encoding')",
        into(version), into(encoding);
    if (version < kOldestServer || encoding != "UTF8") {
      return fail(ErrorCode::unsupported,
                  format("the server has version {} and the encoding {}", version, encoding),
                  where_, "Use PostgreSQL 12 or newer and a database with encoding UTF8.");
    }
    soci::transaction transaction(sql);
    const int lock = kMigrationLock;
    sql << "SELECT pg_advisory_xact_lock(:lock)", use(lock);
    if (auto done = bring_up(sql, kLibrary, "", detail::Half::library); !done) return done;
    const std::string beside = format(", {}", kLibrary);
    if (auto done = bring_up(sql, schema_of(address_), beside, detail::Half::shop); !done) {
      return done;
    }
    transaction.commit();
    return {};
  }

  Result<void> bring_up(soci::session& sql, const std::string& schema, const std::string& beside,
                        detail::Half half) {
    if (!exists(sql, schema, "migrations")) {
      sql << "CREATE SCHEMA " + schema;
      sql << format("CREATE TABLE {}.migrations (version BIGINT PRIMARY KEY, name TEXT NOT NULL)",
                    schema);
    }
    sql << format("SET LOCAL search_path TO {}{}", schema, beside);
    if (auto known = detail::check_form(detail::form_of(sql), where_); !known) return known;
    detail::migrate(sql, dialect_, half);
    return {};
  }

  const Address address_;
};

}  // namespace

Result<std::unique_ptr<Store>> open_postgres(const std::string& address) {
  auto read = read_address(address);
  if (!read) return Failure(read.error());
  auto store = std::make_unique<PostgresStore>(std::move(*read));
  if (auto done = store->open(); !done) return Failure(done.error());
  return store;
}

namespace {

/// What a restore needs of the place it goes to: a database without these schemas.
Result<void> check_empty(const Address& address) {
  try {
    soci::session sql(soci::postgresql, address.connection);
    for (const std::string& schema : {schema_of(address), std::string(kLibrary)}) {
      if (!exists(sql, schema, "migrations")) continue;
      return fail(ErrorCode::conflict, "there is a book already; nothing was changed",
                  address.where, "Restore into a new database.");
    }
  } catch (const soci::soci_error& error) {
    const std::string text = error.get_error_message();
    return fail(ErrorCode::io,
                "the database server cannot be reached: " + text.substr(0, text.find('\n')),
                address.where, "See that it runs and that the database was made (createdb).");
  }
  return {};
}

void drop_restored(const Address& address) {
  soci::session sql(soci::postgresql, address.connection);
  sql << "DROP SCHEMA IF EXISTS " + schema_of(address) + " CASCADE";
  sql << format("DROP SCHEMA IF EXISTS {} CASCADE", kLibrary);
}

}  // namespace

Result<void> restore_postgres(const std::filesystem::path& backup, const std::string& text) {
  const auto address = read_address(text);
  if (!address) return Failure(address.error());
  std::error_code ignored;
  if (!std::filesystem::exists(backup, ignored)) {
    return fail(ErrorCode::not_found, "there is no such backup", backup.string(), "");
  }
  if (auto empty = check_empty(*address); !empty) return empty;
  const auto contents = detail::run_pg_tool("pg_restore", {"--list", backup.string()},
                                            address->connection, backup.string());
  if (!contents) return Failure(contents.error());
  const std::string schema = schema_of(*address);
  if (contents->find("SCHEMA - " + schema + " ") == std::string::npos) {
    return fail(ErrorCode::invalid_input, "this is no backup of the shop " + address->shop,
                backup.string(), "Name the shop that it was made of after the # of the address.");
  }
  const auto done =
      detail::run_pg_tool("pg_restore",
                          {"--single-transaction", "--exit-on-error", "--no-owner", "--no-password",
                           "--dbname=" + detail::database_of(address->connection), backup.string()},
                          address->connection, address->where);
  if (!done) return Failure(done.error());
  const auto store = open_postgres(text);
  auto whole = store ? (*store)->check_integrity() : Result<void>(Failure(store.error()));
  if (!whole) drop_restored(*address);
  return whole;
}

bool is_postgres(std::string_view book) {
  return book.rfind("postgresql://", 0) == 0 || book.rfind("postgres://", 0) == 0;
}

}  // namespace film::store
