#pragma once

#include <condition_variable>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include <soci/soci.h>

#include "store/detail/dialect.h"
#include "store/detail/sql.h"
#include "store/store.h"

namespace film::store::detail {

/// A store over a few connections to one database; what differs by database is virtual.
class SqlStore : public Store {
 public:
  Result<void> each_row(const Row& row) override;

 protected:
  /// `where` names the book in messages; it holds no password.
  SqlStore(std::string where, const Dialect& dialect)
      : where_(std::move(where)), dialect_(dialect) {}

  Result<void> transact(Access access, const std::function<Result<void>(Book&)>& action) override;

  /// Begins a transaction; nothing has happened yet when it throws.
  virtual void begin(soci::session& sql, Access access) = 0;
  /// Makes a connection anew that was cut; false when it was not.
  virtual bool revive(soci::session&) { return false; }
  /// The tables in reach, by name.
  virtual std::vector<std::string> tables(soci::session& sql) = 0;
  /// The expression that gives a row of the table as JSON.
  virtual std::string row_as_json(soci::session& sql, const std::string& table) = 0;
  [[nodiscard]] virtual Error to_error(const soci::soci_error& error) const = 0;

  /// Takes a connection that is ready for use.
  void keep(std::unique_ptr<soci::session> session);
  /// Like begin; a connection that was cut while it was idle is made anew first.
  void begin_alive(soci::session& sql, Access access);
  /// Lends a free connection to `action`; its exceptions become errors.
  Result<void> with_session(const std::function<Result<void>(soci::session&)>& action);

  const std::string where_;
  const Dialect& dialect_;

 private:
  std::vector<std::unique_ptr<soci::session>> sessions_;
  std::mutex writing_;
  std::mutex mutex_;
  std::condition_variable freed_;
  std::vector<soci::session*> free_;
};

/// Which half of a migration's statements.
enum class Half { both, library, shop };

/// The newest form that the tables in reach have; 0 when there are none.
int form_of(soci::session& sql);
/// All missing steps in the transaction that is open.
void migrate(soci::session& sql, const Dialect& dialect, Half half);
/// Errors: unsupported, when the form is newer than this program.
Result<void> check_form(int form, const std::string& where);

}  // namespace film::store::detail
