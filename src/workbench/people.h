#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/access.h"
#include "shop/person.h"
#include "shop/settings.h"
#include "workbench/workbench.h"

namespace film::workbench {

struct NewPerson {
  std::string name;
  std::string sign_in;
  shop::Role role = shop::Role::reader;
  std::string password;  ///< empty: the person cannot sign in yet
};

/// What is absent stays as it is.
struct PersonChange {
  std::string id;
  std::int64_t revision = 0;  ///< the one that was looked at
  std::optional<std::string> name;
  std::optional<std::string> sign_in;
  std::optional<shop::Role> role;
  std::optional<bool> active;  ///< false ends the person's sessions
};

/// Everyone, by name. Errors: io.
Result<std::vector<shop::Person>> people(Workbench& workbench);

/// The first person of a new book, a lead; makes the shop itself when the book has none yet.
/// Errors: conflict (there is someone already), those of shop::check.
Result<shop::Person> make_owner(Workbench& workbench, const shop::Settings& settings,
                                const NewPerson& owner);

/// Errors: conflict (the sign-in name is taken), those of shop::check and check_password.
Result<shop::Person> add_person(Workbench& workbench, const NewPerson& person);

/// Errors: not_found; conflict (changed meanwhile; nobody would be left to lead); invalid_input.
Result<shop::Person> change_person(Workbench& workbench, const PersonChange& change);

/// Ends the person's sessions. Errors: not_found, those of check_password.
Result<void> set_password(Workbench& workbench, const std::string& person,
                          const std::string& password);

/// The newest lines of the audit trail; of one record ("job J-0001") when it is named.
Result<std::vector<shop::AuditLine>> audit(Workbench& workbench, const std::string& record,
                                           std::size_t most);

}  // namespace film::workbench
