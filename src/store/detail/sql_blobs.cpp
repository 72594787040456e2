// Kept bytes and computed results.

#include "store/detail/sql_blobs.h"

#include "store/content_hash.h"
#include "store/detail/dialect.h"
#include "store/detail/parsed.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::string SqlBlobs::put_blob(std::string_view bytes) {
  const std::string hash = content_hash(bytes);
  int there = 0;
  sql_ << "SELECT count(*) FROM blobs WHERE hash = :hash", into(there), use(hash);
  if (there != 0) return hash;
  dialect_.put_bytes(sql_, hash, bytes);
  return hash;
}

Result<std::string> SqlBlobs::blob(const std::string& hash) {
  auto bytes = dialect_.bytes(sql_, hash);
  if (!bytes) {
    return fail(ErrorCode::not_found, "nothing is kept under this hash", "blob " + hash, "");
  }
  if (content_hash(*bytes) != hash) {
    return fail(ErrorCode::io, "kept bytes no longer have their hash: the book is damaged",
                "blob " + hash, "Restore a backup.");
  }
  return std::move(*bytes);
}

std::optional<std::string> SqlBlobs::computed(const std::string& key) {
  std::string hash;
  sql_ << "SELECT result FROM computed WHERE key = :key", into(hash), use(key);
  if (!sql_.got_data()) return std::nullopt;
  return kept(blob(hash));
}

void SqlBlobs::put_computed(const std::string& key, std::string_view bytes) {
  const std::string hash = put_blob(bytes);
  sql_ << "INSERT INTO computed (key, result) VALUES (:key, :result)"
          " ON CONFLICT (key) DO UPDATE SET result = excluded.result",
      use(key), use(hash);
}

}  // namespace film::store::detail
