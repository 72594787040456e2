#pragma once

#include <cstdint>
#include <string>

namespace film::shop {

/// A signed-in stay of a person. Only the digest of its token is kept.
struct Session {
  std::string digest;
  std::string person;
  std::string created;  ///< times: RFC 3339, UTC
  std::string seen;
  std::string expires;

  friend bool operator==(const Session&, const Session&) = default;
};

/// A customer's link to look at one job. Only the digest of its token is kept.
struct ShareLink {
  std::string id;  ///< "L-0001"
  std::string digest;
  std::string job;
  std::string made_by;
  std::string created;
  std::string expires;
  bool revoked = false;

  friend bool operator==(const ShareLink&, const ShareLink&) = default;
};

/// One line of the audit trail. Appended, never changed.
struct AuditLine {
  std::string at;
  std::string who;
  std::string record;  ///< "job J-0001"
  std::string what;    ///< "added", "changed", "signed in"
  std::string detail;  ///< fields before and after
  std::int64_t revision_before = 0;
  std::int64_t revision_after = 0;

  friend bool operator==(const AuditLine&, const AuditLine&) = default;
};

}  // namespace film::shop
