#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "glazing/glass_kind.h"
#include "glazing/heat.h"
#include "glazing/limits.h"
#include "glazing/match.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A pane as the shop's meter saw it.
struct MeteredGlass {
  double transmittance = 0;  ///< share of visible light
  glazing::Tint tint = glazing::Tint::green;
};

struct MatchOrder {
  MeteredGlass front;
  MeteredGlass target;
  std::size_t most_films = 2;
  double glass_tolerance = 0.02;
  double meter_error = 0.02;
  std::string place;  ///< for the ruling; empty: none
  glazing::Position position = glazing::Position::front_side;
  double speed = 25;  ///< of the moving vehicle, m/s
};

/// One choice of films with what else one asks of it.
struct MatchLine {
  glazing::Match match;
  double reflectance = 0;                     ///< of visible light towards the outside
  std::optional<glazing::HeatGain> standing;  ///< none: a film without solar figures
  std::optional<glazing::HeatGain> moving;
  std::optional<double> infrared_stopped;  ///< share of the infrared that does not pass
  std::optional<double> ultraviolet;       ///< share that passes
  glazing::Ruling ruling;
};

struct MatchReport {
  glazing::HeatTransfer standing, moving;
  glazing::MatchAnswer answer;  ///< `matches` are moved into `lines`
  std::vector<MatchLine> lines;
  std::vector<std::string> notes;
};

/// With the films given. Errors: those of glazing::match and glass_like.
Result<MatchReport> match_glass(const MatchOrder& order, const std::vector<glazing::Sheet>& films,
                                const std::vector<glazing::WindowLimit>& limits);

/// With the shop's films for glass whose optics are in the book. Errors: not_found (no such film),
/// those above.
Result<MatchReport> match_glass(Workbench& workbench, const MatchOrder& order);

/// Why a large figure for infrared is not one for heat, with the numbers of this stack.
std::string infrared_note(double infrared_stopped, double heat_rejected);

}  // namespace film::workbench
