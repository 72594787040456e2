#pragma once

#include <string>
#include <string_view>

namespace film::host {

/// A token nobody can guess: 256 random bits of the system, as 43 letters, digits, - and _.
std::string random_token();

/// What is kept of a token: its SHA-256 as 64 hexadecimal digits. A token is random, so a plain
/// hash is enough.
std::string token_digest(std::string_view token);

/// Argon2id (RFC 9106) with its parameters and a random salt, as one line of text. Takes 64 MiB and
/// some tens of milliseconds; not more than two run at once.
std::string hash_password(std::string_view password);

/// Whether the hash is that of the password; takes as long as hashing. False for a damaged hash.
bool is_password(std::string_view password, const std::string& hash);

/// Takes as long as is_password and says no: for sign-in names that nobody has.
bool refuse_password(std::string_view password);

/// Compares without telling by its time how much was right.
bool is_same_secret(std::string_view a, std::string_view b);

}  // namespace film::host
