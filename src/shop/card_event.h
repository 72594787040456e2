#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace film::shop {

/// What an installer says on a card besides that the piece is laid.
enum class CardWord {
  note,   ///< for who comes after
  recut,  ///< the piece is spoiled: make it again
  photo   ///< kept by content hash; the text says what it shows
};

/// One saying of an installer about a panel. Appended, never changed.
struct CardEvent {
  std::string id;  ///< of the reporter's making: a report sent twice is one
  std::string job;
  std::string panel;
  CardWord word = CardWord::note;
  std::string text;
  std::string who;
  std::string at;  ///< RFC 3339, UTC: when it was said, which may be before it came in

  friend bool operator==(const CardEvent&, const CardEvent&) = default;
};

/// The stable name ("recut"), and the word of that name.
std::string_view name_of(CardWord word);
std::optional<CardWord> card_word(std::string_view name);

/// Errors: invalid_input naming the field (an id of 8 to 100 letters, a text of 1 to 2000 bytes, a
/// panel, a moment).
Result<void> check(const CardEvent& event);

}  // namespace film::shop
