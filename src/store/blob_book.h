#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace film::store {

/// Bytes by content hash, and results computed once: a part of Book (store/book.h).
class BlobBook {
 public:
  virtual ~BlobBook() = default;

  /// Keeps bytes under their content hash and returns it; the same bytes are kept once.
  virtual std::string put_blob(std::string_view bytes) = 0;
  /// Errors: not_found; io when the bytes no longer have their hash.
  virtual Result<std::string> blob(const std::string& hash) = 0;

  /// What was computed once for the inputs named by `key` (a content hash).
  virtual std::optional<std::string> computed(const std::string& key) = 0;
  virtual void put_computed(const std::string& key, std::string_view bytes) = 0;
};

}  // namespace film::store
