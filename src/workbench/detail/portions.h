#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "layout/problem.h"
#include "layout/solution.h"
#include "layout/stock.h"
#include "shop/roll.h"

namespace film::workbench {

/// A roll, or an offcut as the short roll that its box is, and what can be laid on it.
struct FilmSource {
  shop::Roll film;
  bool offcut = false;
  layout::Strip strip;
};

/// What of a job is cut from one source.
struct FilmPortion {
  FilmSource source;
  layout::Problem problem;
  std::vector<layout::PlacedPiece> start;  ///< a layout to begin from; may be empty
};

/// What film and work are worth when rolls and offcuts are chosen.
layout::Terms stock_terms();

struct PortionOrder {
  std::string name;  ///< of the problems; the source's id is added
  double seconds = 5;
  std::uint64_t seed = 1;
};

/// Parts the items among the sources so that little film goes, offcuts first where it pays
/// (layout/stock.h). One source takes all, without a search.
/// Errors: unsupported (no source, or not all, takes an item; the reason says why), those of
/// layout::allot; cancelled.
Result<std::vector<FilmPortion>> part(const std::vector<layout::Item>& items,
                                      const std::vector<FilmSource>& sources,
                                      const PortionOrder& order, const Context& context);

}  // namespace film::workbench
