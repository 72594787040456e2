#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "layout/problem.h"
#include "layout/solution.h"

namespace film::layout {

/// Film at hand: a roll or an offcut.
struct Stock {
  std::string id;
  std::string film;  ///< only pieces of this film may be cut from it
  Strip strip;       ///< of an offcut see strip_of_offcut
  bool offcut = false;
  double price = 1;  ///< of film, per unit of area

  friend bool operator==(const Stock&, const Stock&) = default;
};

/// Pieces to be cut, and of what.
struct Demand {
  Item item;
  std::string film;

  friend bool operator==(const Demand&, const Demand&) = default;
};

/// What film and work are worth; money in any one unit.
struct Terms {
  double handling = 0;  ///< fetching and loading one more roll or offcut
  /// A rest of a roll or offcut at least this long is stock again; a shorter one is waste.
  double least_rest = 300;
  double offcut_worth = 0.5;  ///< share of its price at which an offcut on the shelf is valued
  /// Share of a roll's film that pieces are likely to cover: prices what an offcut saves.
  double usual_use = 0.8;

  friend bool operator==(const Terms&, const Terms&) = default;
};

/// What is cut from one roll or offcut. Items are those of the demands with the copies that are
/// cut here; `item_of` gives their demands.
struct Portion {
  std::size_t stock = 0;
  Problem problem;
  std::vector<std::size_t> item_of;
  Solution solution;
  double cost = 0;  ///< film used at its price, what becomes waste, handling
};

/// Copies of a demand that no stock takes.
struct Left {
  std::size_t demand = 0;
  int copies = 0;
  std::string reason;  ///< with the least width that would do, where width is the reason
};

struct Allotment {
  std::vector<Portion> portions;
  std::vector<Left> left;
  double cost = 0;
};

struct AllotOptions {
  std::uint64_t seed = 1;
  /// Passes of the search for each final layout; trials take a tenth of it.
  std::uint64_t iteration_limit = 2000;
  Grouping grouping = Grouping::free;        ///< in_turn: a group is cut from one stock only
  std::function<double()> share_spent = {};  ///< see SolveOptions
};

/// Chooses which pieces are cut from which roll or offcut, and lays them. An offcut is used when
/// the roll film it saves is worth more than it and the trouble, by its area first and then by
/// trial layouts with and without it; of the rolls that take all that is left, the cheapest is
/// used, else the one that takes most, and so on. Remaining lengths are
/// kept. Every layout passes verify. Deterministic with an iteration limit.
/// Errors: invalid_input (see fault_of; two stocks of one id, a price or term that is negative or
/// not a number).
/// Cost: a trial layout for each roll and offcut of each film, as many again for each offcut used,
/// then a search for each one used.
Result<Allotment> allot(const std::vector<Demand>& demands, const std::vector<Stock>& stocks,
                        const Terms& terms, const AllotOptions& options, const Context& context);

}  // namespace film::layout
