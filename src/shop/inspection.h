#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shop/language.h"

namespace film::shop {

/// One thing to look at before a vehicle is handed over.
struct CheckItem {
  std::string_view id;    ///< stable: "edges"
  std::string_view text;  ///< what must be so
  std::string_view german;
};

inline std::string_view text_of(const CheckItem& item, Language language) {
  return language == Language::german ? item.german : item.text;
}

/// The shop's list, in the order in which one walks round the vehicle. Common practice, no source.
const std::vector<CheckItem>& inspection_list();

/// What was found at one item.
struct Finding {
  std::string item;  ///< id of the list
  bool good = false;
  std::string note;   ///< needed when it is not good
  std::string photo;  ///< content hash; may be empty

  friend bool operator==(const Finding&, const Finding&) = default;
};

/// A walk round the vehicle with the list. Appended, never changed; the newest counts.
struct Inspection {
  std::string job;
  std::vector<Finding> findings;  ///< one for each item of the list
  std::string who;
  std::string at;  ///< RFC 3339, UTC

  friend bool operator==(const Inspection&, const Inspection&) = default;
};

/// Errors: invalid_input (an item of the list without a finding, one found twice or not on the
/// list; a fault without a note; nobody who looked).
Result<void> check(const Inspection& inspection);

/// Whether everything was found good.
bool passed(const Inspection& inspection);

/// The vehicle given back to its owner. Appended, never changed.
struct HandOver {
  std::string job;
  std::string given_by;     ///< for the shop
  std::string received_by;  ///< full name of who signed for it
  std::string declined;     ///< what the customer was offered and did not want; may be empty
  std::string note;
  std::string at;  ///< RFC 3339, UTC

  friend bool operator==(const HandOver&, const HandOver&) = default;
};

/// Errors: invalid_input naming the field.
Result<void> check(const HandOver& hand_over);

}  // namespace film::shop
