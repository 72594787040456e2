#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"

namespace film::shop {

/// How long a film is answered for.
struct FilmTerm {
  std::string film;
  std::string name;  ///< as it stood on the day
  int months = 0;    ///< 0: no warranty

  friend bool operator==(const FilmTerm&, const FilmTerm&) = default;
};

/// Errors: invalid_input (no film, a term outside 0 to 600 months).
Result<void> check(const FilmTerm& term);

/// What the shop gives its word for. The pieces that it covers are those on the vehicle at that
/// moment; readings and lots stand in the book. Appended, never changed: after a recut a new one
/// is issued.
struct Certificate {
  std::string id;  ///< "W-0001", given by the book
  std::string job;
  std::vector<FilmTerm> terms;  ///< one for each film of the pieces
  std::string issued_by;
  std::string issued;  ///< RFC 3339, UTC; the terms run from here

  friend bool operator==(const Certificate&, const Certificate&) = default;
};

enum class Ruling {
  warranty,  ///< the shop or the film's maker answers for it
  goodwill,  ///< nobody must, the shop does
  declined,
};

/// Something is wrong with a piece. Appended, never changed.
struct Claim {
  std::string id;                   ///< "K-0001", given by the book
  std::string job;                  ///< of the piece
  std::int64_t piece = 0;           ///< InstalledPiece::number
  std::string what;                 ///< "edge lifts at the front corner"
  std::string reported_by;          ///< who came with it
  std::string who;                  ///< took it down
  std::string at;                   ///< RFC 3339, UTC
  std::vector<std::string> photos;  ///< content hashes

  friend bool operator==(const Claim&, const Claim&) = default;
};

/// Errors: invalid_input naming the field.
Result<void> check(const Claim& claim);

/// What was decided on a claim, and why. Appended; the newest counts.
struct ClaimRuling {
  std::string claim;
  Ruling ruling = Ruling::warranty;
  std::string reason;
  bool recut = false;  ///< the piece is to be made again
  std::string who;
  std::string at;  ///< RFC 3339, UTC

  friend bool operator==(const ClaimRuling&, const ClaimRuling&) = default;
};

/// Errors: invalid_input (no reason of a few words, nobody who decided).
Result<void> check(const ClaimRuling& ruling);

/// A claim with the rulings on it, oldest first, and the recuts made for it.
struct ClaimRecord {
  shop::Claim claim;
  std::vector<shop::ClaimRuling> rulings;
  std::vector<std::string> recuts;  ///< ids

  friend bool operator==(const ClaimRecord&, const ClaimRecord&) = default;
};

}  // namespace film::shop
