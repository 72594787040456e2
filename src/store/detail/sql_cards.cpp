// What installers say on their cards.

#include "store/detail/sql_cards.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::vector<shop::CardEvent> SqlCards::events_where(const std::string& condition,
                                                    const std::string& value) {
  shop::CardEvent event;
  std::string word;
  soci::statement statement =
      (sql_.prepare << "SELECT id, job, panel, word, text, who, at FROM card_events WHERE " +
                           condition + " = :value ORDER BY entry",
       into(event.id), into(event.job), into(event.panel), into(word), into(event.text),
       into(event.who), into(event.at), use(value));
  statement.execute();
  std::vector<shop::CardEvent> events;
  while (statement.fetch()) {
    const auto known = shop::card_word(word);
    if (!known) throw Damaged("'" + word + "' is no word of a card");
    event.word = *known;
    events.push_back(event);
  }
  return events;
}

std::optional<shop::CardEvent> SqlCards::card_event(const std::string& id) {
  const auto events = events_where("id", id);
  if (events.empty()) return std::nullopt;
  return events.front();
}

std::vector<shop::CardEvent> SqlCards::card_events(const std::string& job) {
  return events_where("job", job);
}

void SqlCards::append(const shop::CardEvent& e) {
  const std::string word(name_of(e.word));
  sql_ << "INSERT INTO card_events (id, job, panel, word, text, who, at)"
          " VALUES (:id, :job, :panel, :word, :text, :who, :at)",
      use(e.id), use(e.job), use(e.panel), use(word), use(e.text), use(e.who), use(e.at);
}

}  // namespace film::store::detail
