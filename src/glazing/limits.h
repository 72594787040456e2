#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "glazing/film_figure.h"

namespace film::glazing {

/// Where a window sits.
enum class Position { windscreen, windscreen_strip, front_side, rear_side, rear };

/// How sure a row of a table is.
enum class Confidence {
  read,       ///< the text of the law was read
  secondary,  ///< someone's account of it was read: a guide, a report, a quotation of its figures
  memory,     ///< remembered
};

/// What a rule asks of the light that passes.
enum class LimitKind {
  at_least,      ///< glass and film together let at least `least` through
  unlimited,     ///< the text sets no figure here, or frees this window from it
  no_film,       ///< nothing may be laid here that takes light
  not_a_figure,  ///< the text asks something no meter reads ("clear", "not obscured")
};

/// What the figure is measured on.
enum class LimitBasis {
  together,  ///< glass and film as they are on the vehicle
  film,      ///< the film by itself, or on clear reference glass as the text says
};

/// One row: a place, a window and what its law says.
struct WindowLimit {
  std::string place;       ///< "US-AL", "AU-WA": ISO 3166 code, a town after it
  std::string place_name;  ///< for people
  Position position = Position::front_side;
  LimitKind kind = LimitKind::at_least;
  std::optional<double> least;             ///< share of visible light; only with at_least
  std::optional<double> tolerance;         ///< by which the text lets a reading miss it
  std::optional<double> most_reflectance;  ///< share of visible light sent back outside
  LimitBasis basis = LimitBasis::together;
  std::string measured;   ///< how, in words: "meter", "perpendicular, BS 857"
  std::string condition;  ///< for which vehicles, with what mirrors; may be empty
  std::string exemption;  ///< medical, police, ...; may be empty
  std::string text;       ///< the law cited
  std::string source;     ///< where it was read
  std::string date_read;  ///< "2026-11-25"; empty: not read
  Confidence confidence = Confidence::memory;
  std::string note;
  friend bool operator==(const WindowLimit&, const WindowLimit&) = default;
};

enum class Verdict { allowed, not_allowed, unknown };

/// A verdict on one window. It is a reading of a table and no legal advice.
struct Ruling {
  Verdict verdict = Verdict::unknown;
  std::string reason;                ///< one or two sentences with the figures
  std::optional<WindowLimit> limit;  ///< the row it rests on
  friend bool operator==(const Ruling&, const Ruling&) = default;
};

/// What is known of a window.
struct WindowReading {
  Ranged visible;                     ///< what glass and film let through
  std::optional<double> reflectance;  ///< towards the outside
};

/// Reads the table. Only a row whose text was read can give `allowed`, and only when the whole
/// range lies on its right side, the tolerance not used, and the reflectance asked for is known;
/// the row's condition is repeated with it, for people to check. A row read at second hand can give
/// `not_allowed`. A remembered row, a missing one, or one that asks what no meter reads gives
/// `unknown`. Of several rows for the window the strictest counts: not_allowed, then unknown, then
/// allowed.
Ruling judge(const std::vector<WindowLimit>& table, std::string_view place, Position position,
             const WindowReading& window);

/// Who decides, for every screen and paper that shows a verdict.
std::string_view no_advice();

/// Whether a row can stand in a table: place and text are there, a share lies in 0 to 1, a figure
/// stands exactly where the kind asks for one, a row that was read says where and when.
/// Errors: invalid_input naming the place, the window and the field.
Result<void> check(const WindowLimit& limit);

}  // namespace film::glazing
