#include "shop/scope_rules.h"

#include <algorithm>
#include <set>

#include "base/text.h"

namespace film::shop {
namespace {

template <class List, class Value>
bool holds(const List& list, const Value& value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

bool is_chosen(const PanelChoice& choice, const Panel& panel) {
  return (choice.zones.empty() || holds(choice.zones, panel.zone)) &&
         (choice.finishes.empty() || holds(choice.finishes, panel.finish)) &&
         (choice.panels.empty() || holds(choice.panels, panel.id));
}

bool is_chosen(const std::vector<PanelChoice>& choices, const Panel& panel) {
  return std::any_of(choices.begin(), choices.end(),
                     [&panel](const PanelChoice& choice) { return is_chosen(choice, panel); });
}

const Film* find_film(const std::vector<Film>& films, std::string_view id) {
  const auto found =
      std::find_if(films.begin(), films.end(), [id](const Film& film) { return film.id == id; });
  return found == films.end() ? nullptr : &*found;
}

Failure refuse(std::string what, std::string where, std::string remedy) {
  return fail(ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy));
}

/// The first film, by name, for that finish and gloss; empty when there is none.
std::string film_for(const std::vector<Film>& films, Finish finish, Gloss gloss) {
  const Film* best = nullptr;
  for (const Film& film : films) {
    if (!holds(film.suits, finish) || film.gloss != gloss) continue;
    if (best == nullptr || film.name < best->name) best = &film;
  }
  return best == nullptr ? std::string{} : best->id;
}

const std::vector<Finish> kPainted{Finish::gloss_paint, Finish::matte_paint, Finish::gloss_black};

}  // namespace

Result<void> check(const std::vector<Package>& packages, const std::vector<Look>& looks) {
  std::set<std::string> ids;
  for (const Package& package : packages) {
    const std::string where = "package " + package.id;
    if (package.id.empty() || package.name.empty()) {
      return refuse("a package without an id or a name", where, "Give it both.");
    }
    if (!ids.insert(package.id).second) {
      return refuse("two packages of one id", where, "Give each its own.");
    }
    if (package.covers.empty()) {
      return refuse("a package that covers nothing", where, "Say which surfaces it covers.");
    }
  }
  ids.clear();
  for (const Look& look : looks) {
    const std::string where = "look " + look.id;
    if (look.id.empty() || look.name.empty()) {
      return refuse("a look without an id or a name", where, "Give it both.");
    }
    if (!ids.insert(look.id).second) {
      return refuse("two looks of one id", where, "Give each its own.");
    }
    if (look.rules.empty()) {
      return refuse("a look without rules", where, "Say which film goes on which finish.");
    }
    for (const FilmRule& rule : look.rules) {
      if (rule.reason.empty()) {
        return refuse("a rule without a reason", where, "Say why, for whoever reads the quote.");
      }
    }
  }
  return {};
}

Proposal propose(const Look& look, const Panel& panel, const std::vector<Film>& films) {
  for (const FilmRule& rule : look.rules) {
    if (rule.finish != panel.finish || (rule.on_sensor && !panel.sensor)) continue;
    if (!rule.panels.empty() && !holds(rule.panels, panel.id)) continue;
    if (rule.film.empty()) return {panel.id, "", rule.reason};
    const Film* film = find_film(films, rule.film);
    if (film == nullptr) {
      return {panel.id, "", format("the rules ask for '{}', which is not in the book", rule.film)};
    }
    if (!suits(*film, panel)) {
      return {panel.id, "", format("{} is not made for this finish", film->name)};
    }
    return {panel.id, film->id, rule.reason};
  }
  return {panel.id, "", "no rule names this finish"};
}

std::vector<Proposal> propose(const Package& package, const Look& look, const VehicleModel& vehicle,
                              const std::vector<Film>& films) {
  std::vector<Proposal> proposals;
  for (const Panel& panel : vehicle.panels) {
    if (is_chosen(package.covers, panel) && !is_chosen(package.spares, panel)) {
      proposals.push_back(propose(look, panel, films));
    }
  }
  return proposals;
}

std::vector<ScopeItem> scope_of(const std::vector<Proposal>& proposals) {
  std::vector<ScopeItem> scope;
  for (const Proposal& proposal : proposals) {
    if (!proposal.film.empty()) scope.push_back({proposal.panel, proposal.film});
  }
  return scope;
}

std::vector<Package> usual_packages() {
  const std::vector<Finish> body{Finish::gloss_paint, Finish::matte_paint, Finish::gloss_black,
                                 Finish::bare_plastic, Finish::chrome};
  return {
      {"partial_front",
       "Partial front",
       {{{"front"},
         kPainted,
         {"hood", "front_bumper", "front_bumper_corner_left", "front_bumper_corner_right"}}},
       {}},
      {"full_front",
       "Full front",
       {{{"front"}, kPainted, {}},
        {{},
         kPainted,
         {"fender_left", "fender_right", "mirror_face_left", "mirror_face_right",
          "mirror_base_left", "mirror_base_right"}}},
       {}},
      {"full_body", "Full body", {{{}, body, {}}}, {}},
      {"lamps", "Lamps", {{{}, {Finish::lamp, Finish::reflector}, {}}}, {}},
      {"windows", "Windows", {{{}, {Finish::glass}, {}}}, {}},
  };
}

std::vector<Look> usual_looks(const std::vector<Film>& films) {
  const std::string sensor = "a sensor looks through it: only with the vehicle maker's consent";
  const auto rules = [&](Gloss paint, const std::string& why) {
    std::vector<FilmRule> all;
    const std::vector<Finish> every{Finish::gloss_paint,  Finish::matte_paint, Finish::gloss_black,
                                    Finish::bare_plastic, Finish::chrome,      Finish::lamp,
                                    Finish::reflector,    Finish::glass,       Finish::rubber};
    for (const Finish finish : every) all.push_back({finish, true, {}, "", sensor});
    const auto add = [&](Finish finish, Gloss gloss, const std::string& reason) {
      all.push_back({finish, false, {}, film_for(films, finish, gloss), reason});
    };
    add(Finish::gloss_paint, paint, why);
    add(Finish::matte_paint, Gloss::matte, "matte paint stays matte");
    add(Finish::gloss_black, Gloss::gloss, "gloss-black trim keeps its gloss");
    add(Finish::bare_plastic, Gloss::gloss, "film for trim");
    add(Finish::chrome, Gloss::gloss, "film for trim");
    add(Finish::lamp, Gloss::gloss, "clear film for lamps; a signed caution is needed");
    all.push_back({Finish::reflector, false, {}, "", "required reflectors stay bare"});
    all.push_back({Finish::glass,
                   false,
                   {"windscreen", "door_glass_front_left", "door_glass_front_right"},
                   "",
                   "the driver looks through it: only where the law of the place allows film"});
    add(Finish::glass, Gloss::gloss,
        "side and rear glass behind the driver; the law of the place prevails");
    all.push_back({Finish::rubber, false, {}, "", "film does not hold on rubber"});
    return all;
  };
  return {
      {"as_it_is", "As it is", rules(Gloss::gloss, "gloss paint keeps its gloss")},
      {"matte_conversion", "Matte conversion", rules(Gloss::matte, "gloss paint becomes matte")}};
}

}  // namespace film::shop
