#include "shop/supply.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "base/text.h"
#include "shop/day.h"

namespace film::shop {
namespace {

// Rolls of one nominal width differ by fractions of a millimetre.
constexpr double kSameWidth = 1;

Outlook outlook(const Supply& supply, std::span<const Roll> rolls, std::span<const FilmNeed> needs,
                const std::string& today) {
  Outlook out;
  out.supply = supply;
  for (const Roll& roll : rolls) {
    if (is_of(supply, roll.film, roll.width)) out.in_stock = out.in_stock + roll.remaining;
  }
  std::vector<const FilmNeed*> asked;
  for (const FilmNeed& need : needs) {
    if (is_of(supply, need.film, need.width)) asked.push_back(&need);
  }
  const auto day_of = [&today](const FilmNeed* need) { return std::max(need->day, today); };
  std::stable_sort(asked.begin(), asked.end(),
                   [&](const FilmNeed* a, const FilmNeed* b) { return day_of(a) < day_of(b); });
  out.low = out.in_stock < supply.minimum;
  if (out.low) out.short_on = today;
  for (const FilmNeed* need : asked) {
    out.needed = out.needed + need->length;
    if (out.short_on.empty() && out.in_stock - out.needed < supply.minimum) {
      out.short_on = day_of(need);
    }
  }
  if (out.short_on.empty()) return out;
  const Mm missing = supply.minimum + out.needed - out.in_stock;
  out.rolls_to_order = static_cast<int>(std::ceil(missing / supply.roll_length));
  out.order_by = std::max(day_after(out.short_on, -supply.lead_days), today);
  return out;
}

}  // namespace

bool is_of(const Supply& supply, const std::string& film, Mm width) {
  return film == supply.film && std::abs(width.value - supply.width.value) <= kSameWidth;
}

Result<void> check(const Supply& supply) {
  const auto refuse = [&supply](std::string what, const char* field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what),
                format("supply of {} {}", supply.film.empty() ? "?" : supply.film, field),
                std::move(remedy));
  };
  const auto within = [](double value, double most) {
    return std::isfinite(value) && value >= 0 && value <= most;
  };
  if (supply.film.empty()) return refuse("no film", "film", "Name its film.");
  if (!(within(supply.width.value, 5000) && supply.width > Mm{0})) {
    return refuse("not a width", "width", "Give the width in mm, up to 5000.");
  }
  if (!within(supply.minimum.value, 1e6)) {
    return refuse("not a minimum", "minimum", "Give a length in mm, 0 or more.");
  }
  if (!(within(supply.roll_length.value, 1e6) && supply.roll_length.value >= 100)) {
    return refuse("not the length of a roll", "roll_length",
                  "Give the length of a new roll in mm, 100 or more.");
  }
  if (supply.lead_days < 0 || supply.lead_days > 365) {
    return refuse("not a delivery time", "lead_days", "Give 0 to 365 days.");
  }
  if (!within(supply.areal_gsm, 5000) || !within(supply.wound_um, 5000) ||
      !within(supply.core_g, 20000) || !within(supply.core_diameter, 1000)) {
    return refuse("not a measure of film or core", "roll facts",
                  "Give weights and thicknesses of 0 (not known) or more.");
  }
  return {};
}

std::vector<Outlook> outlooks(std::span<const Supply> supplies, std::span<const Roll> rolls,
                              std::span<const FilmNeed> needs, const std::string& today) {
  FILM_ASSERT(is_day(today));
  std::vector<Outlook> all;
  for (const Supply& supply : supplies) all.push_back(outlook(supply, rolls, needs, today));
  return all;
}

}  // namespace film::shop
