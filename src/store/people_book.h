#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/access.h"
#include "shop/person.h"

namespace film::store {

/// People, their sessions, customers' links and the audit trail: a part of Book (store/book.h).
class PeopleBook {
 public:
  virtual ~PeopleBook() = default;

  virtual std::vector<shop::Person> people() = 0;  ///< by name
  virtual std::optional<shop::Person> person(const std::string& id) = 0;
  virtual std::optional<shop::Person> person_signing_in(const std::string& sign_in) = 0;
  /// Gives the person an id ("U-0001"). Errors: conflict (the sign-in name is taken).
  virtual Result<shop::Person> add(shop::Person person) = 0;
  /// `person.revision` is the new one. Errors: conflict (a stale revision; the sign-in name is
  /// taken; no active lead would be left).
  virtual Result<void> update(const shop::Person& person) = 0;

  /// The hash of the person's password (host/secrets.h); none: no password opens the book.
  virtual std::optional<std::string> password(const std::string& person) = 0;
  virtual void put_password(const std::string& person, const std::string& hash) = 0;

  virtual std::optional<shop::Session> session(const std::string& digest) = 0;
  /// Adds it, or replaces `seen` and `expires`.
  virtual void put(const shop::Session& session) = 0;
  virtual void end_session(const std::string& digest) = 0;
  virtual void end_sessions(const std::string& person) = 0;
  virtual void end_sessions_before(const std::string& expires) = 0;

  virtual std::vector<shop::ShareLink> share_links(const std::string& job) = 0;  ///< newest first
  virtual std::optional<shop::ShareLink> share_link(const std::string& digest) = 0;
  /// Gives the link its id ("L-0001").
  virtual shop::ShareLink add(shop::ShareLink link) = 0;
  virtual Result<void> revoke_link(const std::string& id) = 0;  ///< Errors: not_found

  /// The newest `most` lines, newest first; of one record when it is named. What happens to
  /// records is written by the database itself, in the change that does it.
  virtual std::vector<shop::AuditLine> audit(const std::string& record, std::size_t most) = 0;
  virtual void append(const shop::AuditLine& line) = 0;
};

}  // namespace film::store
