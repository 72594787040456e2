#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "geometry/box.h"
#include "layout/problem.h"
#include "layout/solution.h"
#include "shop/offcut.h"
#include "shop/roll.h"

namespace film::workbench {

/// A piece that needs film.
struct FilmSearch {
  layout::Item piece;
  std::string film;
  std::string lot;          ///< taken first where two places cost the same; may be empty
  layout::Margins margins;  ///< bare film that the plotter needs
  double gap = 0;           ///< between pieces, mm
  std::size_t offcuts = 3;  ///< at most so many are answered
  double rest_worth = 0.5;  ///< of what is left of film, against what it was (common practice)
};

/// Where the piece can be cut.
struct FilmPlace {
  shop::Roll film;  ///< a roll, or an offcut as the short roll that its box is
  bool offcut = false;
  layout::Problem problem;
  layout::Solution solution;
  std::vector<Box> rests;  ///< of an offcut, or beside the piece on a roll: worth keeping
  double waste = 0;        ///< film that is neither piece nor rest, mm^2
  double cost = 0;         ///< film that goes, in mm^2 of roll film
};

/// A roll as a strip to lay on: what remains, with its defects and the plotter's margins.
layout::Strip strip_of(const shop::Roll& roll, const layout::Margins& margins, double gap);
layout::Strip strip_of(const shop::Offcut& offcut, const layout::Margins& margins, double gap);

/// The best places on offcuts, found by trying the piece in their outlines from the smallest
/// usable area up, and the best place on a roll; cheapest first. Empty: nothing takes the piece.
/// Every place passes layout::verify. Deterministic.
/// Errors: those of layout::solve. Cost: a look at each offcut, a layout of one piece for each
/// whose box and area would do until enough are found, and for each roll of the film.
Result<std::vector<FilmPlace>> places_for(const FilmSearch& search,
                                          std::span<const shop::Offcut> offcuts,
                                          std::span<const shop::Roll> rolls,
                                          const Context& context = {});

}  // namespace film::workbench
