#include "exchange/limits_json.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/text.h"

namespace film::exchange {
namespace {

using Json = nlohmann::json;
using glazing::Confidence;
using glazing::LampColour;
using glazing::LampUse;
using glazing::LimitBasis;
using glazing::LimitKind;
using glazing::Position;

constexpr std::size_t kMostRows = 10'000;
constexpr int kVersion = 1;

template <class T, std::size_t N>
using Words = std::array<std::pair<std::string_view, T>, N>;

constexpr Words<Position, 5> kPositions{{{"windscreen", Position::windscreen},
                                         {"windscreen_strip", Position::windscreen_strip},
                                         {"front_side", Position::front_side},
                                         {"rear_side", Position::rear_side},
                                         {"rear", Position::rear}}};
constexpr Words<LimitKind, 4> kKinds{{{"at_least", LimitKind::at_least},
                                      {"unlimited", LimitKind::unlimited},
                                      {"no_film", LimitKind::no_film},
                                      {"not_a_figure", LimitKind::not_a_figure}}};
constexpr Words<Confidence, 3> kConfidences{{{"read", Confidence::read},
                                             {"secondary", Confidence::secondary},
                                             {"memory", Confidence::memory}}};
constexpr Words<LimitBasis, 2> kBases{
    {{"together", LimitBasis::together}, {"film", LimitBasis::film}}};
constexpr Words<LampUse, 8> kUses{{{"head", LampUse::head},
                                   {"front_position", LampUse::front_position},
                                   {"tail", LampUse::tail},
                                   {"stop", LampUse::stop},
                                   {"turn_front", LampUse::turn_front},
                                   {"turn_rear", LampUse::turn_rear},
                                   {"marker", LampUse::marker},
                                   {"reflector", LampUse::reflector}}};
constexpr Words<LampColour, 3> kColours{
    {{"white", LampColour::white}, {"red", LampColour::red}, {"amber", LampColour::amber}}};

constexpr Words<glazing::Tint, 4> kTints{{{"green", glazing::Tint::green},
                                          {"grey", glazing::Tint::grey},
                                          {"bronze", glazing::Tint::bronze},
                                          {"neutral", glazing::Tint::neutral}}};

template <class T, std::size_t N>
std::string_view word_in(const Words<T, N>& words, T value) {
  for (const auto& [word, each] : words) {
    if (each == value) return word;
  }
  return "";
}

template <class T, std::size_t N>
Result<T> value_in(const Words<T, N>& words, std::string_view word, const char* what) {
  std::string known;
  for (const auto& [each, value] : words) {
    if (each == word) return value;
    known += (known.empty() ? "" : ", ") + std::string(each);
  }
  return fail(ErrorCode::invalid_input, format("\"{}\" is no {}", word, what), what,
              format("Use one of: {}.", known));
}

// Reads one row; the first fault is kept, after it everything reads as nothing.
class Row {
 public:
  Row(const Json& object, std::string where) : object_(object), where_(std::move(where)) {
    if (!object_.is_object()) refuse("a row is not an object", "");
  }

  std::string text(const char* key, bool needed = false) {
    const Json* value = find(key, needed);
    if (value == nullptr) return {};
    if (!value->is_string()) {
      refuse(format("\"{}\" is not a text", key), "");
      return {};
    }
    return value->get<std::string>();
  }

  std::optional<double> number(const char* key) {
    const Json* value = find(key, false);
    if (value == nullptr) return std::nullopt;
    if (!value->is_number() || !std::isfinite(value->get<double>())) {
      refuse(format("\"{}\" is not a number", key), "Leave it out where the text gives none.");
      return std::nullopt;
    }
    return value->get<double>();
  }

  std::optional<double> share(const char* key) {
    auto percent = number(key);
    if (percent) *percent /= 100;
    return percent;
  }

  template <class T, std::size_t N>
  T choice(const char* key, const Words<T, N>& words) {
    const std::string word = text(key, true);
    if (fault_) return words.front().second;
    auto value = value_in(words, word, key);
    if (!value) {
      refuse(value.error().what, value.error().remedy);
      return words.front().second;
    }
    return *value;
  }

  Result<void> done() {
    if (fault_) return Failure(*fault_);
    for (const auto& [key, value] : object_.items()) {
      if (!asked_.contains(key)) {
        refuse(format("the key \"{}\" is not known", key), "See docs/formats/limits.md.");
        return Failure(*fault_);
      }
    }
    return {};
  }

  // Puts the row's number before what a check of its values found.
  Failure at(Error error) const {
    error.where = format("{} ({})", where_, error.where);
    return Failure(std::move(error));
  }

 private:
  const Json* find(const char* key, bool needed) {
    if (fault_) return nullptr;
    asked_.insert(key);
    const auto found = object_.find(key);
    if (found != object_.end()) return &*found;
    if (needed) refuse(format("\"{}\" is missing", key), "");
    return nullptr;
  }
  void refuse(std::string what, std::string remedy) {
    if (!fault_)
      fault_ = Error{ErrorCode::invalid_input, std::move(what), where_, std::move(remedy)};
  }

  const Json& object_;
  std::string where_;
  std::set<std::string> asked_;
  std::optional<Error> fault_;
};

Result<glazing::WindowLimit> read_window(const Json& object, std::size_t number) {
  Row row(object, format("window row {}", number));
  glazing::WindowLimit limit;
  limit.place = row.text("place", true);
  limit.place_name = row.text("place_name");
  limit.position = row.choice("position", kPositions);
  limit.kind = row.choice("kind", kKinds);
  limit.least = row.share("least_percent");
  limit.tolerance = row.share("tolerance_points");
  limit.most_reflectance = row.share("most_reflectance_percent");
  limit.basis = row.choice("basis", kBases);
  limit.measured = row.text("measured");
  limit.condition = row.text("condition");
  limit.exemption = row.text("exemption");
  limit.text = row.text("text", true);
  limit.source = row.text("source");
  limit.date_read = row.text("date_read");
  limit.confidence = row.choice("confidence", kConfidences);
  limit.note = row.text("note");
  if (limit.place_name.empty()) limit.place_name = limit.place;
  if (auto done = row.done(); !done) return Failure(done.error());
  if (auto sound = glazing::check(limit); !sound) return row.at(sound.error());
  return limit;
}

Result<glazing::LampLimit> read_lamp(const Json& object, std::size_t number) {
  Row row(object, format("lamp row {}", number));
  glazing::LampLimit limit;
  limit.regime = row.text("regime", true);
  limit.use = row.choice("use", kUses);
  limit.colour = row.choice("colour", kColours);
  limit.least = row.number("least");
  limit.unit = row.text("unit");
  limit.text = row.text("text", true);
  limit.source = row.text("source");
  limit.date_read = row.text("date_read");
  limit.confidence = row.choice("confidence", kConfidences);
  limit.note = row.text("note");
  if (auto done = row.done(); !done) return Failure(done.error());
  if (auto sound = glazing::check(limit); !sound) return row.at(sound.error());
  return limit;
}

template <class T, class Read>
Result<std::vector<T>> read_rows(const Json& root, const char* key, const Read& read) {
  std::vector<T> rows;
  const auto found = root.find(key);
  if (found == root.end()) return rows;
  if (!found->is_array()) {
    return fail(ErrorCode::invalid_input, format("\"{}\" is not a list", key), "limits");
  }
  if (found->size() > kMostRows) {
    return fail(ErrorCode::too_large, "more than 10,000 rows", key);
  }
  for (const Json& each : *found) {
    auto row = read(each, rows.size() + 1);
    if (!row) return Failure(row.error());
    rows.push_back(std::move(*row));
  }
  return rows;
}

}  // namespace

Result<LimitTables> read_limits(std::string_view bytes) {
  const Json root = Json::parse(bytes, nullptr, false);
  if (root.is_discarded() || !root.is_object()) {
    return fail(ErrorCode::invalid_input, "the file is no JSON object", "limits",
                "See docs/formats/limits.md.");
  }
  if (root.value("form", Json()) != "filmwright-limits" ||
      root.value("version", Json()) != kVersion) {
    return fail(
        ErrorCode::unsupported, "this is no table of limits that this program knows", "limits",
        format("It begins with \"form\": \"filmwright-limits\", \"version\": {}.", kVersion));
  }
  for (const auto& [key, value] : root.items()) {
    constexpr std::array kKeys{"form", "version", "as_of", "notice", "windows", "lamps"};
    if (std::find(kKeys.begin(), kKeys.end(), key) == kKeys.end()) {
      return fail(ErrorCode::invalid_input, format("the key \"{}\" is not known", key), "limits");
    }
  }
  LimitTables tables;
  if (const Json as_of = root.value("as_of", Json()); as_of.is_string()) tables.as_of = as_of;
  if (const Json notice = root.value("notice", Json()); notice.is_string()) tables.notice = notice;
  auto windows = read_rows<glazing::WindowLimit>(root, "windows", read_window);
  if (!windows) return Failure(windows.error());
  auto lamps = read_rows<glazing::LampLimit>(root, "lamps", read_lamp);
  if (!lamps) return Failure(lamps.error());
  tables.windows = std::move(*windows);
  tables.lamps = std::move(*lamps);
  return tables;
}

std::string_view word_for(Position position) { return word_in(kPositions, position); }
std::string_view word_for(LimitKind kind) { return word_in(kKinds, kind); }
std::string_view word_for(Confidence confidence) { return word_in(kConfidences, confidence); }
std::string_view word_for(LampUse use) { return word_in(kUses, use); }
std::string_view word_for(glazing::Tint tint) { return word_in(kTints, tint); }
Result<glazing::Tint> tint_of(std::string_view word) { return value_in(kTints, word, "tint"); }
std::string_view word_for(LampColour colour) { return word_in(kColours, colour); }
std::string_view word_for(glazing::Verdict verdict) {
  switch (verdict) {
    case glazing::Verdict::allowed: return "allowed";
    case glazing::Verdict::not_allowed: return "not_allowed";
    case glazing::Verdict::unknown: return "unknown";
  }
  return "";
}
Result<Position> position_of(std::string_view word) {
  return value_in(kPositions, word, "window position");
}
Result<LampUse> lamp_use_of(std::string_view word) { return value_in(kUses, word, "lamp"); }
Result<LampColour> lamp_colour_of(std::string_view word) {
  return value_in(kColours, word, "lamp colour");
}

}  // namespace film::exchange
