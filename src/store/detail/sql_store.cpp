#include "store/detail/sql_store.h"

#include <array>
#include <chrono>
#include <ctime>

#include "base/text.h"
#include "store/acting.h"
#include "store/detail/sql.h"
#include "store/detail/sql_book.h"
#include "store/migrations.h"

namespace film::store::detail {

using soci::into;
using soci::use;

namespace {

void roll_back(soci::session& sql) {
  try {
    sql << "ROLLBACK";
  } catch (const soci::soci_error&) {
    // The database has ended the transaction itself: its disk is full, or the connection is gone.
  }
}

/// Says for the audit trail who changes what follows, and when.
void sign(soci::session& sql) {
  const std::time_t seconds =
      std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm utc{};
  gmtime_r(&seconds, &utc);
  std::array<char, 32> at{};
  std::strftime(at.data(), at.size(), "%Y-%m-%dT%H:%M:%SZ", &utc);
  const std::string text = at.data();
  sql << "UPDATE author SET who = :who, at = :at", use(Acting::who()), use(text);
}

}  // namespace

Result<void> SqlStore::transact(Access access, const std::function<Result<void>(Book&)>& action) {
  // One writer of this process at a time: waiting here is fair and cheap, a database's is not.
  std::unique_lock<std::mutex> writing(writing_, std::defer_lock);
  if (access == Access::change) writing.lock();
  return with_session([this, access, &action](soci::session& sql) -> Result<void> {
    begin_alive(sql, access);
    try {
      if (access == Access::change) sign(sql);
      SqlBook book({sql, dialect_});
      Result<void> done = action(book);
      sql << (done && access == Access::change ? "COMMIT" : "ROLLBACK");
      return done;
    } catch (...) {
      roll_back(sql);
      throw;
    }
  });
}

void SqlStore::begin_alive(soci::session& sql, Access access) {
  try {
    begin(sql, access);
  } catch (const soci::soci_error&) {
    if (!revive(sql)) throw;
    begin(sql, access);
  }
}

Result<void> SqlStore::each_row(const Row& row) {
  return with_session([this, &row](soci::session& sql) -> Result<void> {
    begin_alive(sql, Access::look);
    Result<void> done;
    try {
      for (const std::string& table : tables(sql)) {
        if (table == "passwords" || table == "sessions" || table == "share_links") continue;
        std::string text;
        const std::string expression =
            table == "blobs" ? "'{\"hash\": \"' || hash || '\"}'" : row_as_json(sql, table);
        soci::statement statement =
            (sql.prepare << format("SELECT {} FROM {} AS t", expression, table), into(text));
        statement.execute();
        while (done && statement.fetch()) done = row(table, text);
        if (!done) break;
      }
    } catch (...) {
      roll_back(sql);
      throw;
    }
    roll_back(sql);
    return done;
  });
}

void SqlStore::keep(std::unique_ptr<soci::session> session) {
  free_.push_back(session.get());
  sessions_.push_back(std::move(session));
}

Result<void> SqlStore::with_session(const std::function<Result<void>(soci::session&)>& action) {
  std::unique_lock lock(mutex_);
  freed_.wait(lock, [this] { return !free_.empty(); });
  soci::session* const sql = free_.back();
  free_.pop_back();
  lock.unlock();
  const auto give_back = [this](soci::session* used) {
    const std::lock_guard again(mutex_);
    free_.push_back(used);
    freed_.notify_one();
  };
  const std::unique_ptr<soci::session, decltype(give_back)> lent(sql, give_back);
  try {
    return action(*sql);
  } catch (const soci::soci_error& error) {
    return Failure(to_error(error));
  } catch (const Damaged& error) {
    return fail(ErrorCode::io, format("the book is damaged: {}", error.what()), where_,
                "Restore a backup.");
  }
}

std::string holding(std::string_view text) {
  std::string pattern = "%";
  for (const char c : text) {
    if (c == '%' || c == '_' || c == '!') pattern += '!';
    pattern += c;
  }
  return pattern + '%';
}

int form_of(soci::session& sql) {
  int version = 0;
  sql << "SELECT coalesce(max(version), 0) FROM migrations", into(version);
  return version;
}

void migrate(soci::session& sql, const Dialect& dialect, Half half) {
  const int form = form_of(sql);
  const auto run = [&](const std::vector<std::string_view>& statements) {
    for (const std::string_view statement : statements) {
      for (const std::string& each : dialect.adapted(statement)) sql << each;
    }
  };
  for (const Migration& step : migrations()) {
    if (step.version <= form) continue;
    if (half != Half::shop) run(step.library);
    if (half != Half::library) run(step.shop);
    const std::string name(step.name);
    sql << "INSERT INTO migrations (version, name) VALUES (:version, :name)", use(step.version),
        use(name);
  }
}

Result<void> check_form(int form, const std::string& where) {
  const int newest = migrations().back().version;
  if (form <= newest) return {};
  return fail(ErrorCode::unsupported,
              format("the book has form {}, this program knows forms up to {}", form, newest),
              where, "Use the newer program that wrote it.");
}

}  // namespace film::store::detail
