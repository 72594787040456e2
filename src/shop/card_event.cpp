#include "shop/card_event.h"

#include "shop/day.h"
#include "shop/detail/named.h"
#include "shop/detail/text_fields.h"

namespace film::shop {
namespace {

constexpr detail::Named<CardWord> kWords[] = {
    {CardWord::note, "note"}, {CardWord::recut, "recut"}, {CardWord::photo, "photo"}};

}  // namespace

std::string_view name_of(CardWord word) { return detail::name_in<CardWord>(kWords, word); }

std::optional<CardWord> card_word(std::string_view name) {
  return detail::value_in<CardWord>(kWords, name);
}

Result<void> check(const CardEvent& event) {
  if (auto sound = detail::check({{event.id, "id", 8, 100},
                                  {event.job, "job"},
                                  {event.panel, "panel"},
                                  {event.text, "text", 1, 2000},
                                  {event.who, "who"}});
      !sound) {
    return sound;
  }
  if (is_moment(event.at)) return {};
  return fail(ErrorCode::invalid_input, "'" + event.at + "' is no moment", "at",
              "Write it as 2031-05-04T10:00:00Z.");
}

}  // namespace film::shop
