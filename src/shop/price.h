#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"
#include "hours/model.h"
#include "shop/price_list.h"

namespace film::shop {

/// What a figure of film rests on.
enum class FilmBasis {
  layout,  ///< the pieces laid on film at hand, quickly: a real layout, seldom the best
  area,    ///< the area of the surfaces and the usual waste: pieces or roll are not known
};

/// What of it is cut from one roll or offcut.
struct FilmCut {
  std::string stock;
  bool offcut = false;
  std::size_t pieces = 0;
  double length = 0;  ///< mm that go; of an offcut all of it
  double width = 0;   ///< mm

  friend bool operator==(const FilmCut&, const FilmCut&) = default;
};

/// Film of one kind that the work takes.
struct FilmAmount {
  std::string film;
  std::string name;  ///< of the film, for people
  std::size_t pieces = 0;
  std::int64_t area = 0;  ///< of the pieces, mm^2
  /// Of film, mm^2 as it comes from a roll; what goes of an offcut counts with its worth.
  std::int64_t needed = 0;
  FilmBasis basis = FilmBasis::area;
  double length = 0;               ///< of rolls, mm; with a layout
  double roll_width = 0;           ///< of the roll that most is cut from, mm; with a layout
  double in_stock = 0;             ///< mm of rolls of it that are left
  std::vector<FilmCut> cuts = {};  ///< with a layout

  friend bool operator==(const FilmAmount&, const FilmAmount&) = default;
};

/// Minutes with the interval that they will be in nine times out of ten.
struct MinuteRange {
  std::int64_t expected = 0;
  std::int64_t low = 0;
  std::int64_t high = 0;

  friend bool operator==(const MinuteRange&, const MinuteRange&) = default;
};

/// All that the price of one offer is reckoned from.
struct WorkNeed {
  std::vector<FilmAmount> films;  ///< by name
  MinuteRange laying;             ///< of all pieces
  std::int64_t covered_area = 0;  ///< of the surfaces, mm^2
  std::int64_t coated_area = 0;   ///< mm^2; 0: no coating
  /// Surfaces of which no piece could be made, with the reason; they are priced by area.
  std::vector<std::string> notes;

  friend bool operator==(const WorkNeed&, const WorkNeed&) = default;
};

enum class PriceKind { film, laying, preparation, coating, consumables };

enum class Measure { square_millimetre, minute, vehicle };

struct PriceLine {
  PriceKind kind = PriceKind::film;
  std::string film;  ///< id; only of film lines
  std::string name;  ///< of that film
  std::int64_t quantity = 0;
  Measure measure = Measure::vehicle;
  Money net;       ///< before the discount
  Money discount;  ///< taken off; not negative
  Money cost;      ///< to the shop; not for customers
  Rate tax;

  friend bool operator==(const PriceLine&, const PriceLine&) = default;
};

struct Price {
  std::vector<PriceLine> lines;
  Money net;       ///< of all lines, before the discount
  Money discount;  ///< of all lines
  std::vector<TaxLine> taxes;
  Money total;    ///< net - discount + taxes
  Money deposit;  ///< of the total
  Money cost;     ///< to the shop; not for customers
  Rate margin;    ///< what the shop keeps of net - discount, rounded to the nearest; 0 of nothing
  bool thin = false;  ///< the margin is below the list's least

  friend bool operator==(const Price&, const Price&) = default;
};

/// What is taken off: a share of every line, then an amount of what is left, before tax.
struct Discount {
  Rate share = {};
  Money amount = {};

  friend bool operator==(const Discount&, const Discount&) = default;
};

/// The price of the work by the list: a line for each film, then laying, preparation, coating,
/// consumables; lines of nothing are left out. Rounding as in shop/money.h; the discount's amount
/// is split over the lines by what they come to, largest remainders first.
/// Errors: invalid_input (a share out of 0 to 100 %, an amount below 0 or above what is left),
/// too_large.
Result<Price> price_of(const WorkNeed& work, const PriceList& list, const Discount& discount);

/// Sums, taxes, deposit and margin of lines that are priced already. Errors: too_large.
Result<Price> summed(std::vector<PriceLine> lines, const PriceList& list);

}  // namespace film::shop
