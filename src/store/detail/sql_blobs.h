#pragma once

#include <soci/soci.h>

#include "store/blob_book.h"
#include "store/detail/sql.h"

namespace film::store::detail {

/// Kept bytes, in SQL.
class SqlBlobs : public virtual BlobBook {
 public:
  explicit SqlBlobs(Sql& sql) : sql_(sql.session), dialect_(sql.dialect) {}

  std::string put_blob(std::string_view bytes) override;
  Result<std::string> blob(const std::string& hash) override;
  std::optional<std::string> computed(const std::string& key) override;
  void put_computed(const std::string& key, std::string_view bytes) override;

 private:
  soci::session& sql_;
  const Dialect& dialect_;
};

}  // namespace film::store::detail
