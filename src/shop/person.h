#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace film::shop {

/// What a person may do in the shop (which routes: server/access.h).
enum class Role {
  lead,       ///< owner or head installer: everything, people too
  cutter,     ///< pieces, layouts, cutting, stock
  installer,  ///< cards, readings, hours, recuts
  desk,       ///< customers, quotes, bookings, papers, claims
  reader,     ///< looks, changes nothing
};
inline constexpr Role kRoles[] = {Role::lead, Role::cutter, Role::installer, Role::desk,
                                  Role::reader};

std::string_view name_of(Role role);
std::optional<Role> role_of(std::string_view name);

/// Someone who works with the program.
struct Person {
  std::string id;       ///< "U-0001"
  std::string name;     ///< as it stands in histories and papers
  std::string sign_in;  ///< lower case letters, digits and . _ -
  Role role = Role::reader;
  bool active = true;
  std::int64_t revision = 1;
  std::string created;  ///< RFC 3339, UTC

  friend bool operator==(const Person&, const Person&) = default;
};

/// Errors: invalid_input naming the field.
Result<void> check(const Person& person);

/// Whether a password may be set: 10 to 200 bytes, not the person's own name or sign-in name, not
/// one character over and over. Source of the length rule: NIST SP 800-63B 5.1.1.2 asks for at
/// least 8, for no rules of composition, and for letting people choose long ones.
Result<void> check_password(const Person& person, std::string_view password);

}  // namespace film::shop
