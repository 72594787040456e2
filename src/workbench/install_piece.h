#pragma once

#include <cstdint>
#include <string>

#include "base/result.h"
#include "shop/installed_piece.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A piece as its installer reports it. What is empty is taken from the book.
struct PieceLaid {
  std::string event;  ///< of the reporter's making, 8 to 100 letters; the same for the same report
  std::string job;
  std::string panel;
  std::string piece;          ///< id of the flat piece; empty: the panel's
  std::string source;         ///< roll or offcut; empty: that of the film's layout
  std::string lot;            ///< empty: that of the roll
  std::string at;             ///< RFC 3339, UTC; empty: now
  std::int64_t replaces = 0;  ///< number of the piece that came off; 0: none
  std::string reason;         ///< why it came off
};

/// Takes down that a piece is on the vehicle. The film is that of the job's scope; the cut run is
/// the newest of that film. The first piece moves a released job to installing, and a piece laid
/// after the inspection moves it back there. On a job that was handed over, only a piece that
/// replaces another is laid. Sent twice with one event, it is one piece.
/// Errors: not_found (job; panel not in the scope; the piece that came off), invalid_input (those
/// of shop::check; no lot is known), conflict (the job's state; the event made another piece; the
/// panel has that piece already and nothing came off), io.
Result<shop::InstalledPiece> install_piece(Workbench& workbench, const PieceLaid& laid,
                                           const std::string& who);

}  // namespace film::workbench
