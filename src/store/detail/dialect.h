#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <soci/soci.h>

namespace film::store::detail {

/// What differs between the databases below the SQL that they share.
class Dialect {
 public:
  virtual ~Dialect() = default;

  /// A statement of a migration (store/migrations.h) as this database takes it.
  [[nodiscard]] virtual std::vector<std::string> adapted(std::string_view statement) const = 0;

  virtual void put_bytes(soci::session& sql, const std::string& hash,
                         std::string_view bytes) const = 0;
  [[nodiscard]] virtual std::optional<std::string> bytes(soci::session& sql,
                                                         const std::string& hash) const = 0;
};

const Dialect& sqlite_dialect();
const Dialect& postgres_dialect();

}  // namespace film::store::detail
