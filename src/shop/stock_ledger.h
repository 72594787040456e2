#pragma once

#include <span>
#include <string>

#include "base/result.h"
#include "base/units.h"
#include "shop/roll.h"

namespace film::shop {

/// Why the film on a roll or offcut became more or less.
enum class StockVerb {
  received,     ///< came into the shop; the first line of each
  cut,          ///< was used for a job
  returned,     ///< was booked as used and is back on the roll
  written_off,  ///< is lost: damaged, sold, thrown away
  counted,      ///< was measured, and the book follows the measure
};

/// One line of the stock ledger. Appended, never changed. What remains of a roll is the sum of its
/// lines, exactly.
struct StockLine {
  std::string roll;  ///< id of a roll or an offcut
  StockVerb verb = StockVerb::received;
  Mm change{0};     ///< of what remains: more is positive
  std::string job;  ///< that used it or gave it back; may be empty
  std::string who;
  std::string why;  ///< what was found, or what for; may be empty but for a loss and a count
  std::string at;   ///< RFC 3339, UTC

  friend bool operator==(const StockLine&, const StockLine&) = default;
};

/// Lengths are booked in steps of 1/1024 mm: such numbers add up exactly in a double, in any
/// order, up to far more film than a shop ever holds.
Mm booked(Mm length);

/// The line that brings a new roll into the book, as long as `roll.remaining`.
StockLine received(const Roll& roll);

/// Film used. Errors: invalid_input (not positive), conflict (more than remains).
Result<StockLine> cut(const Roll& roll, Mm length, const std::string& job);

/// Film that was booked as used and is not. Errors: invalid_input (not positive), conflict (the
/// roll would be longer than it was received).
Result<StockLine> give_back(const Roll& roll, Mm length, const std::string& job);

/// Film lost. Errors: as cut; invalid_input without a reason.
Result<StockLine> write_off(const Roll& roll, Mm length, const std::string& why);

/// What was measured becomes what remains. Errors: invalid_input (not a length, no reason),
/// conflict (more than was received).
Result<StockLine> count(const Roll& roll, Mm measured, const std::string& why);

/// The roll after the line, whatever the line says: what remains is never below nothing and never
/// above the length received. Errors: conflict; invalid_input (a line of another roll, a change
/// that is not a number or has the wrong sign for its verb).
Result<Roll> after(Roll roll, const StockLine& line);

/// What the lines leave.
Mm sum_of(std::span<const StockLine> lines);

}  // namespace film::shop
