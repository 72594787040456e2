#pragma once

#include <soci/soci.h>

#include "store/card_book.h"
#include "store/detail/sql.h"

namespace film::store::detail {

/// What installers say on their cards, in SQL.
class SqlCards : public virtual CardBook {
 public:
  explicit SqlCards(Sql& sql) : sql_(sql.session) {}

  std::optional<shop::CardEvent> card_event(const std::string& id) override;
  std::vector<shop::CardEvent> card_events(const std::string& job) override;
  void append(const shop::CardEvent& event) override;

 private:
  std::vector<shop::CardEvent> events_where(const std::string& condition, const std::string& value);

  soci::session& sql_;
};

}  // namespace film::store::detail
