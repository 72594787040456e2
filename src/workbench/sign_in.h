#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "shop/access.h"
#include "shop/person.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A session ends this long after it was last used, and at the latest this long after it began.
constexpr double kIdleSeconds = 12 * 3600;
constexpr double kLongestSeconds = 14 * 24 * 3600.0;

struct SignedIn {
  std::string token;  ///< for the cookie; only its digest is kept
  shop::Person person;
};

/// Begins a session. Errors: invalid_input (one message for every reason, so that nobody learns
/// which names exist).
Result<SignedIn> sign_in(Workbench& workbench, const std::string& name,
                         const std::string& password);

/// Begins a session of the person without asking for a password. For the demo shop on this machine
/// only; the caller sees to that. Errors: not_found (nobody active of that id).
Result<SignedIn> sign_in_unasked(Workbench& workbench, const std::string& person);

/// The active person whose session has this token; none when there is no such session or it is
/// over. Errors: io.
Result<std::optional<shop::Person>> session_person(Workbench& workbench, const std::string& token);

Result<void> sign_out(Workbench& workbench, const std::string& token);

/// Changes the person's own password and begins a new session; all others end. Errors:
/// invalid_input (the old one is wrong; those of check_password).
Result<SignedIn> change_password(Workbench& workbench, const shop::Person& person,
                                 const std::string& old_password, const std::string& new_password);

}  // namespace film::workbench
