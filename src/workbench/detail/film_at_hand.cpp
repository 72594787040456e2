#include "workbench/detail/film_at_hand.h"

#include <algorithm>
#include <limits>

#include "workbench/detail/lookup.h"
#include "workbench/find_film.h"

namespace film::workbench {

layout::Margins layout_margins(store::Book& book) {
  const cutting::Margins margins = knife_margins(book);
  return {margins.lead.value, margins.trail.value, margins.low.value, margins.high.value};
}

std::vector<FilmSource> film_at_hand(store::Book& book, const std::string& film, double gap) {
  const layout::Margins margins = layout_margins(book);
  const auto profiles = book.profiles();
  Mm widest{profiles.empty() ? std::numeric_limits<double>::infinity() : 0};
  for (const auto& profile : profiles) widest = std::max(widest, profile.settings.media_width);
  const auto usable = [&](const shop::Roll& roll) {
    return roll.film == film && roll.width <= widest &&
           roll.width.value > margins.low + margins.high &&
           roll.remaining.value > margins.start + margins.end;
  };
  std::vector<FilmSource> sources;
  for (const shop::Offcut& offcut : book.offcuts()) {
    shop::Roll roll = shop::as_roll(offcut);
    if (usable(roll)) sources.push_back({std::move(roll), true, strip_of(offcut, margins, gap)});
  }
  for (shop::Roll& roll : book.rolls()) {
    if (!usable(roll)) continue;
    layout::Strip strip = strip_of(roll, margins, gap);
    sources.push_back({std::move(roll), false, std::move(strip)});
  }
  return sources;
}

}  // namespace film::workbench
