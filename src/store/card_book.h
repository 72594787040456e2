#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/card_event.h"

namespace film::store {

/// What installers say on their cards: a part of Book (store/book.h). Appended, never changed.
class CardBook {
 public:
  virtual ~CardBook() = default;

  virtual std::optional<shop::CardEvent> card_event(const std::string& id) = 0;
  virtual std::vector<shop::CardEvent> card_events(const std::string& job) = 0;  ///< as they came
  /// The id is not in the book yet.
  virtual void append(const shop::CardEvent& event) = 0;
};

}  // namespace film::store
