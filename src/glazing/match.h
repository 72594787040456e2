#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "glazing/colour.h"
#include "glazing/film_figure.h"
#include "glazing/stack.h"

namespace film::glazing {

/// What is to look like what.
struct MatchTask {
  Sheet front;   ///< factory glass that gets film
  Sheet target;  ///< the glass behind it that is to be matched
  std::vector<Sheet> films;
  std::size_t most_films = 2;     ///< on one pane, bonded one on the other: 1 or 2
  double glass_tolerance = 0.02;  ///< by which either glass may let more or less through
                                  ///< (practice: panes of one kind differ by a point or two)
  double meter_error = 0.02;      ///< of the shop's meter, share of all light
};

/// One choice of film for the front glass.
struct Match {
  std::vector<std::string> films;  ///< from the glass to the inside; empty: none
  Ranged visible;                  ///< of glass and film together
  Ranged apart;  ///< transmittance here less that of the target, with the range that glass
                 ///< tolerance and meter error leave
  WindowLook look;
  double through_difference = 0;  ///< of the light seen through both (CIEDE2000)
  double outside_difference = 0;  ///< of both panes seen from outside by day (CIEDE2000)
  double colour_difference = 0;   ///< of the hue alone: both made equally light first
  bool within_doubt = false;      ///< the range of `apart` holds 0: no meter tells them apart
};

struct MatchAnswer {
  Ranged target_visible;
  WindowLook target_look;
  std::vector<Match> matches;  ///< the best by day first; the bare glass is one of them
};

/// Tries the bare glass, each film and, where asked, each ordered pair of two films (a film may be
/// laid twice). Ranked by how different the two windows look from outside by day and from inside,
/// the greater of both; equals by the difference in transmittance. Films may be averages only:
/// they count as grey.
/// Cost: O(films^2) stacks. Errors: as average_of; invalid_input (no films, `most_films` outside 1
/// and 2, tolerances outside 0 to 0.5).
Result<MatchAnswer> match(const MatchTask& task);

}  // namespace film::glazing
