#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/people_book.h"

namespace film::store::detail {

/// People, sessions, links and the audit trail, in SQL.
class SqlPeople : public virtual PeopleBook {
 public:
  explicit SqlPeople(Sql& sql) : sql_(sql.session) {}

  std::vector<shop::Person> people() override;
  std::optional<shop::Person> person(const std::string& id) override;
  std::optional<shop::Person> person_signing_in(const std::string& sign_in) override;
  Result<shop::Person> add(shop::Person person) override;
  Result<void> update(const shop::Person& person) override;
  std::optional<std::string> password(const std::string& person) override;
  void put_password(const std::string& person, const std::string& hash) override;
  std::optional<shop::Session> session(const std::string& digest) override;
  void put(const shop::Session& session) override;
  void end_session(const std::string& digest) override;
  void end_sessions(const std::string& person) override;
  void end_sessions_before(const std::string& expires) override;
  std::vector<shop::ShareLink> share_links(const std::string& job) override;
  std::optional<shop::ShareLink> share_link(const std::string& digest) override;
  shop::ShareLink add(shop::ShareLink link) override;
  Result<void> revoke_link(const std::string& id) override;
  std::vector<shop::AuditLine> audit(const std::string& record, std::size_t most) override;
  void append(const shop::AuditLine& line) override;

 private:
  std::vector<shop::Person> people_where(const std::string& condition, const std::string& value);
  std::vector<shop::ShareLink> links_where(const std::string& condition, const std::string& value);
  Result<void> check_sign_in_is_free(const shop::Person& person);

  soci::session& sql_;
};

}  // namespace film::store::detail
