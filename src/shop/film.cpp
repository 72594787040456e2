#include "shop/film.h"

#include <algorithm>

#include "base/text.h"

namespace film::shop {
namespace {

bool is_colour(std::string_view text) {
  const auto is_hex = [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F');
  };
  return text.size() == 7 && text.front() == '#' &&
         std::all_of(text.begin() + 1, text.end(), is_hex);
}

}  // namespace

Result<void> check(const Film& film) {
  const auto refuse = [&film](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what),
                format("film {} {}", film.id.empty() ? "?" : film.id, field), std::move(remedy));
  };
  if (film.id.empty()) return refuse("a film has no id", "id", "Give it one, such as clear-gloss.");
  if (film.name.empty()) return refuse("a film has no name", "name", "Give it a name.");
  if (!is_colour(film.colour)) {
    return refuse(format("'{}' is not a colour", film.colour), "colour", "Write it as #rrggbb.");
  }
  if (!(film.thickness_um >= 5 && film.thickness_um <= 2000)) {
    return refuse(format("a thickness of {} micrometres", film.thickness_um), "thickness_um",
                  "Films are 5 to 2000 micrometres thick.");
  }
  if (film.suits.empty()) {
    return refuse("a film that suits no finish", "suits", "Name the finishes it may go on.");
  }
  return surface::check(film.behaviour);
}

bool suits(const Film& film, const Panel& panel) {
  return std::find(film.suits.begin(), film.suits.end(), panel.finish) != film.suits.end();
}

}  // namespace film::shop
