#pragma once

#include <cstdint>
#include <string>

#include "base/result.h"

namespace film::shop {

/// A piece of film as it went onto a vehicle: what a warranty, years later, is about. Appended,
/// never changed. A piece that comes off is named by the one that takes its place.
struct InstalledPiece {
  std::int64_t number = 0;  ///< given by the book, rising from 1; "P-1" on paper
  /// Given by who reports the piece, so that a report sent twice is one piece.
  std::string event;
  std::string job;
  std::string panel;
  std::string piece;  ///< id of the flat piece; a panel may take several
  std::string film;
  std::string lot;
  std::string source;         ///< roll or offcut that it was cut from
  std::string run;            ///< cut run; empty: cut by hand, or elsewhere
  std::string who;            ///< laid it
  std::string at;             ///< RFC 3339, UTC
  std::int64_t replaces = 0;  ///< number of the piece that came off for it; 0: none
  std::string reason;         ///< why that one came off; empty when none did

  friend bool operator==(const InstalledPiece&, const InstalledPiece&) = default;
};

/// Checks a piece on its own: every name given and of a length that a book holds, a moment, a
/// reason exactly when it replaces another. Errors: invalid_input naming the field.
Result<void> check(const InstalledPiece& piece);

/// "P-17", as it stands on labels and certificates.
std::string number_text(const InstalledPiece& piece);

}  // namespace film::shop
