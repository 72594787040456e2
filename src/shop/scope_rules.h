#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shop/film.h"
#include "shop/job.h"
#include "shop/vehicle.h"

namespace film::shop {

/// Panels by what they are. An empty list asks nothing.
struct PanelChoice {
  std::vector<std::string> zones;
  std::vector<Finish> finishes;
  std::vector<std::string> panels;  ///< ids

  friend bool operator==(const PanelChoice&, const PanelChoice&) = default;
};

/// Surfaces that are offered together: "full front".
struct Package {
  std::string id;
  std::string name;                 ///< for people
  std::vector<PanelChoice> covers;  ///< what one of these chooses
  std::vector<PanelChoice> spares;  ///< but not what one of these chooses

  friend bool operator==(const Package&, const Package&) = default;
};

/// Which film goes on a finish, with the reason.
struct FilmRule {
  Finish finish = Finish::gloss_paint;
  bool on_sensor = false;           ///< only panels that a sensor looks through or sits in
  std::vector<std::string> panels;  ///< only these; empty: all of the finish
  std::string film;                 ///< empty: the surface stays bare
  std::string reason;               ///< for people

  friend bool operator==(const FilmRule&, const FilmRule&) = default;
};

/// How the vehicle is to look: the rules that propose film for it. The first that fits counts.
struct Look {
  std::string id;
  std::string name;  ///< for people: "as it is", "matte conversion"
  std::vector<FilmRule> rules;

  friend bool operator==(const Look&, const Look&) = default;
};

/// Errors: invalid_input (no id or name, one id twice, a package that covers nothing, a look
/// without rules, a rule without a reason).
Result<void> check(const std::vector<Package>& packages, const std::vector<Look>& looks);

/// What is proposed for one panel, and why.
struct Proposal {
  std::string panel;
  std::string film;  ///< empty: stays bare
  std::string reason;

  friend bool operator==(const Proposal&, const Proposal&) = default;
};

/// The film for one panel in that look: by its rules, and never one that does not suit the finish.
Proposal propose(const Look& look, const Panel& panel, const std::vector<Film>& films);

/// For every panel of the package, in the vehicle's order.
std::vector<Proposal> propose(const Package& package, const Look& look, const VehicleModel& vehicle,
                              const std::vector<Film>& films);

/// The panels of the proposals that get film.
std::vector<ScopeItem> scope_of(const std::vector<Proposal>& proposals);

/// Packages as the trade names them (common practice, no source), for a shop that has none yet.
std::vector<Package> usual_packages();

/// "As it is": each finish keeps its look; "matte conversion": matte film on painted gloss, gloss
/// kept on gloss-black trim. Made from the films there are: for each finish the first, by name,
/// that suits it and has the gloss asked for. Sensors, reflectors and the glass that the driver
/// looks ahead and aside through stay bare.
std::vector<Look> usual_looks(const std::vector<Film>& films);

}  // namespace film::shop
