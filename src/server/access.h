#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shop/person.h"

namespace film::server {

/// Who may use a route.
struct Access {
  bool anyone = false;            ///< also without a session
  bool this_machine = false;      ///< without a session from this machine (for its monitoring)
  std::vector<shop::Role> roles;  ///< otherwise people of these

  [[nodiscard]] bool allows(shop::Role role) const;
};

/// One line of the table.
struct AccessLine {
  std::string_view method;
  std::string_view pattern;
  Access access;
};

/// The whole table: every route of the API with those who may use it.
const std::vector<AccessLine>& access_table();

/// Who may use the route; none when the table does not name it: then nobody may.
const Access* access_of(std::string_view method, std::string_view pattern);

/// Who asks.
struct Caller {
  std::string person;  ///< id; empty: nobody signed in
  std::string name = "shop";
  shop::Role role = shop::Role::lead;
  std::string token;  ///< of the session; empty in the demo shop without one
};

}  // namespace film::server
