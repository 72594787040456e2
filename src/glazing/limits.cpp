#include "glazing/limits.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace film::glazing {
namespace {

std::string_view words_for(Position position) {
  switch (position) {
    case Position::windscreen: return "windscreen";
    case Position::windscreen_strip: return "strip at the top of the windscreen";
    case Position::front_side: return "front side window";
    case Position::rear_side: return "rear side window";
    case Position::rear: return "rear window";
  }
  return "";
}

std::string percent(double share) { return format("{:.1f} %", 100 * share); }

std::string span(const Ranged& visible) {
  return format("{} ({} to {})", percent(visible.value), percent(visible.low),
                percent(visible.high));
}

Ruling ruling(Verdict verdict, std::string reason, const WindowLimit& limit) {
  return {verdict, std::move(reason), limit};
}

Ruling unsure(const WindowLimit& limit, std::string reason) {
  return ruling(Verdict::unknown, std::move(reason), limit);
}

bool mirrors_too_much(const WindowLimit& limit, const WindowReading& window) {
  return limit.most_reflectance && window.reflectance &&
         *window.reflectance > *limit.most_reflectance;
}

// What the row's words say of the window, whatever the row is worth.
Ruling by_words(const WindowLimit& limit, const WindowReading& window) {
  if (limit.kind == LimitKind::not_a_figure) {
    return unsure(limit, "The text gives no figure that a meter could read.");
  }
  if (limit.kind == LimitKind::no_film) {
    return ruling(Verdict::not_allowed, "The text allows no film that takes light here.", limit);
  }
  if (mirrors_too_much(limit, window)) {
    return ruling(Verdict::not_allowed,
                  format("It sends {} of the light back outside, the text allows {}.",
                         percent(*window.reflectance), percent(*limit.most_reflectance)),
                  limit);
  }
  if (limit.basis == LimitBasis::film) {
    return unsure(limit,
                  "The text measures the film by itself, not the finished window: ask the film's "
                  "maker for that figure.");
  }
  if (limit.kind == LimitKind::at_least) {
    const double floor = *limit.least - limit.tolerance.value_or(0);
    if (window.visible.high < floor) {
      return ruling(
          Verdict::not_allowed,
          format("{} passes, the text asks for {}.", span(window.visible), percent(*limit.least)),
          limit);
    }
    if (window.visible.low < *limit.least) {
      return unsure(limit, format("{} passes, the text asks for {}: the range reaches across it, "
                                  "so a meter must decide.",
                                  span(window.visible), percent(*limit.least)));
    }
  }
  if (limit.most_reflectance && !window.reflectance) {
    return unsure(limit, format("The text limits what is sent back outside to {}, and that is not "
                                "known.",
                                percent(*limit.most_reflectance)));
  }
  if (limit.kind == LimitKind::unlimited) {
    return ruling(Verdict::allowed, "The text sets no figure for this window.", limit);
  }
  return ruling(
      Verdict::allowed,
      format("{} passes, the text asks for {}.", span(window.visible), percent(*limit.least)),
      limit);
}

// What the row is worth tempers what it says.
Ruling tempered(Ruling said) {
  const WindowLimit& limit = *said.limit;
  if (limit.confidence == Confidence::memory) {
    return unsure(limit, "This row was written from memory and decides nothing. " + said.reason);
  }
  if (said.verdict != Verdict::allowed) return said;
  if (limit.confidence == Confidence::secondary) {
    return unsure(limit,
                  "The text of the law was not read, only an account of it, so this is no "
                  "yes. " +
                      said.reason);
  }
  if (!limit.condition.empty()) {
    said.reason += format(" On condition: {}.", limit.condition);
  }
  return said;
}

int strictness(Verdict verdict) {
  switch (verdict) {
    case Verdict::not_allowed: return 2;
    case Verdict::unknown: return 1;
    case Verdict::allowed: return 0;
  }
  return 1;
}

}  // namespace

Ruling judge(const std::vector<WindowLimit>& table, std::string_view place, Position position,
             const WindowReading& window) {
  std::optional<Ruling> strictest;
  for (const WindowLimit& limit : table) {
    if (limit.place != place || limit.position != position) continue;
    Ruling each = tempered(by_words(limit, window));
    if (!strictest || strictness(each.verdict) > strictness(strictest->verdict)) {
      strictest = std::move(each);
    }
  }
  if (strictest) return std::move(*strictest);
  return {Verdict::unknown,
          format("The table has no row for the {} in {}.", words_for(position), place),
          std::nullopt};
}

std::string_view no_advice() {
  return "This is a reading of a table and no legal advice. Local code prevails; the authority or "
         "a licensed inspection of the place decides, with its own meter on the finished window.";
}

Result<void> check(const WindowLimit& limit) {
  const auto refuse = [&limit](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what),
                format("{}, {}, {}", limit.place.empty() ? "a row" : limit.place,
                       words_for(limit.position), field),
                std::move(remedy));
  };
  const auto outside = [](const std::optional<double>& share) {
    return share && !(*share >= 0 && *share <= 1);
  };
  if (limit.place.empty()) return refuse("a row names no place", "place", "Name it: \"US-AL\".");
  if (limit.text.empty()) return refuse("a row cites no law", "text", "Cite the text.");
  if (outside(limit.least)) return refuse("more than all light", "least", "Give 0 to 100 percent.");
  if (outside(limit.tolerance)) {
    return refuse("a tolerance outside 0 to 100 points", "tolerance", "Give it in points.");
  }
  if (outside(limit.most_reflectance)) {
    return refuse("more than all light", "most_reflectance", "Give 0 to 100 percent.");
  }
  if ((limit.kind == LimitKind::at_least) != limit.least.has_value()) {
    return refuse("a figure stands just where the kind is \"at_least\"", "least",
                  "Give the figure, or another kind.");
  }
  if (limit.confidence != Confidence::memory &&
      (limit.date_read.size() != 10 || limit.source.empty())) {
    return refuse("a row that was read says where and on which day", "date_read",
                  "Give source and date_read (\"2026-11-25\"), or set confidence to \"memory\".");
  }
  return {};
}

}  // namespace film::glazing
