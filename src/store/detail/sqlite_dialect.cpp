#include "store/detail/dialect.h"

namespace film::store::detail {
namespace {

using soci::into;
using soci::use;

// Migrations are written in SQLite's form.
class SqliteDialect final : public Dialect {
 public:
  std::vector<std::string> adapted(std::string_view statement) const override {
    return {std::string(statement)};
  }

  void put_bytes(soci::session& sql, const std::string& hash,
                 std::string_view bytes) const override {
    soci::blob value(sql);
    value.write(0, bytes.data(), bytes.size());
    sql << "INSERT INTO blobs (hash, bytes) VALUES (:hash, :bytes)", use(hash), use(value);
  }

  std::optional<std::string> bytes(soci::session& sql, const std::string& hash) const override {
    soci::blob value(sql);
    sql << "SELECT bytes FROM blobs WHERE hash = :hash", into(value), use(hash);
    if (!sql.got_data()) return std::nullopt;
    std::string bytes(value.get_len(), '\0');
    if (!bytes.empty()) value.read(0, bytes.data(), bytes.size());
    return bytes;
  }
};

}  // namespace

const Dialect& sqlite_dialect() {
  static const SqliteDialect kDialect;
  return kDialect;
}

}  // namespace film::store::detail
