#include "shop/person.h"

#include <algorithm>

#include "base/assert.h"
#include "base/text.h"

namespace film::shop {
namespace {

constexpr std::size_t kShortestPassword = 10;
constexpr std::size_t kLongestPassword = 200;

bool is_sign_in_character(char c) {
  return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '.' || c == '_' || c == '-';
}

}  // namespace

std::string_view name_of(Role role) {
  switch (role) {
    case Role::lead: return "lead";
    case Role::cutter: return "cutter";
    case Role::installer: return "installer";
    case Role::desk: return "desk";
    case Role::reader: return "reader";
  }
  FILM_ASSERT(false);
  return "";
}

std::optional<Role> role_of(std::string_view name) {
  for (const Role role : kRoles) {
    if (name_of(role) == name) return role;
  }
  return std::nullopt;
}

Result<void> check(const Person& person) {
  const auto refuse = [](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), std::move(field), std::move(remedy));
  };
  if (person.name.find_first_not_of(' ') == std::string::npos || person.name.size() > 120) {
    return refuse("a person needs a name", "name", "Give 1 to 120 characters.");
  }
  const std::string& sign_in = person.sign_in;
  if (sign_in.size() < 2 || sign_in.size() > 40 ||
      !std::all_of(sign_in.begin(), sign_in.end(), is_sign_in_character)) {
    return refuse(format("'{}' is no name to sign in with", sign_in), "sign_in",
                  "Use 2 to 40 of the letters a to z, digits, dot, _ and -.");
  }
  return {};
}

Result<void> check_password(const Person& person, std::string_view password) {
  const auto refuse = [](std::string what, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), "password", std::move(remedy));
  };
  if (password.size() < kShortestPassword || password.size() > kLongestPassword) {
    return refuse(format("a password has {} to {} characters", kShortestPassword, kLongestPassword),
                  "A few words that do not belong together are long and easy to remember.");
  }
  const bool of_one =
      std::all_of(password.begin(), password.end(), [&](char c) { return c == password.front(); });
  if (of_one || password == person.name || password == person.sign_in) {
    return refuse("this password would be guessed first", "Choose another.");
  }
  return {};
}

}  // namespace film::shop
