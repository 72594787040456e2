#include "glazing/match.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace film::glazing {
namespace {

std::optional<Error> fault_of(const MatchTask& task) {
  const auto fault = [](std::string what) {
    return Error{ErrorCode::invalid_input, std::move(what), "match", {}};
  };
  const auto share = [](double v) { return std::isfinite(v) && v >= 0 && v <= 0.5; };
  if (task.films.empty()) return fault("there is no film to choose from");
  if (task.most_films < 1 || task.most_films > 2) return fault("a pane takes one or two films");
  if (!share(task.glass_tolerance) || !share(task.meter_error)) {
    return fault("a tolerance lies outside 0 to 0.5");
  }
  return std::nullopt;
}

Stack stack_of(const Sheet& glass, const std::vector<const Sheet*>& films) {
  Stack stack{{glass}, {}};
  for (const Sheet* film : films) {
    stack.sheets.push_back(*film);
    stack.joints.push_back({Joint::Kind::bonded, 0});
  }
  return stack;
}

double visible_of(const WindowLook& look) { return look.through.y; }

// What the film leaves of a change in the glass: both scale alike.
Ranged with_doubt(double visible, double bare, double glass_tolerance, double meter) {
  const double share = bare > 0 ? visible / bare : 1;
  const double off = std::hypot(share * glass_tolerance, meter);
  return {visible, std::max(0.0, visible - off), std::min(1.0, visible + off)};
}

// Two lights made equally light, so that only hue and strength of colour differ.
double colour_apart(const Xyz& a, const Xyz& b) {
  if (a.y <= 0 || b.y <= 0) return 0;
  const auto scaled = [](const Xyz& c) { return lab({0.5 * c.x / c.y, 0.5, 0.5 * c.z / c.y}); };
  return difference(scaled(a), scaled(b));
}

std::vector<std::vector<const Sheet*>> choices_of(const MatchTask& task) {
  std::vector<std::vector<const Sheet*>> choices{{}};
  for (const Sheet& first : task.films) {
    choices.push_back({&first});
    if (task.most_films < 2) continue;
    for (const Sheet& second : task.films) choices.push_back({&first, &second});
  }
  return choices;
}

struct Target {
  WindowLook look;
  Ranged visible;
};

Result<Match> try_out(const MatchTask& task, const std::vector<const Sheet*>& films,
                      const Target& target, double bare) {
  auto look = look_of(stack_of(task.front, films));
  if (!look) return Failure(look.error());
  Match match;
  for (const Sheet* film : films) match.films.push_back(film->id);
  match.visible = with_doubt(visible_of(*look), bare, task.glass_tolerance, task.meter_error);
  const double apart = match.visible.value - target.visible.value;
  const double off = std::hypot(match.visible.high - match.visible.value,
                                target.visible.high - target.visible.value);
  match.apart = {apart, apart - off, apart + off};
  match.within_doubt = match.apart.low <= 0 && match.apart.high >= 0;
  match.through_difference = difference(lab(look->through), lab(target.look.through));
  match.outside_difference =
      difference(lab(seen_from_outside(*look)), lab(seen_from_outside(target.look)));
  match.colour_difference = colour_apart(look->through, target.look.through);
  match.look = *look;
  return match;
}

bool is_better(const Match& a, const Match& b) {
  const auto worst = [](const Match& m) {
    return std::max(m.through_difference, m.outside_difference);
  };
  if (worst(a) != worst(b)) return worst(a) < worst(b);
  if (a.films.size() != b.films.size()) return a.films.size() < b.films.size();
  return std::fabs(a.apart.value) < std::fabs(b.apart.value);
}

}  // namespace

Result<MatchAnswer> match(const MatchTask& task) {
  if (auto error = fault_of(task)) return Failure(std::move(*error));
  const auto behind = look_of(stack_of(task.target, {}));
  if (!behind) return Failure(behind.error());
  const auto bare = look_of(stack_of(task.front, {}));
  if (!bare) return Failure(bare.error());
  const double clear = visible_of(*behind);
  const Target target{*behind, with_doubt(clear, clear, task.glass_tolerance, task.meter_error)};
  MatchAnswer answer{target.visible, *behind, {}};
  for (const auto& films : choices_of(task)) {
    auto match = try_out(task, films, target, visible_of(*bare));
    if (!match) return Failure(match.error());
    answer.matches.push_back(std::move(*match));
  }
  std::stable_sort(answer.matches.begin(), answer.matches.end(), is_better);
  return answer;
}

}  // namespace film::glazing
