#include "shop/price_list.h"

#include <algorithm>
#include <set>

#include "base/text.h"

namespace film::shop {
namespace {

/// No price or cost of one unit is higher; leaves room for a thousand panels of square kilometres.
constexpr Money kDearest{1'000'000'000};

}  // namespace

Result<void> check(const PriceList& list) {
  const auto refuse = [](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), "price list " + std::move(field),
                std::move(remedy));
  };
  const auto is_price = [](Money price) { return price >= Money{0} && price <= kDearest; };
  const auto is_rate = [](Rate rate) { return rate >= Rate{} && rate <= Rate::percent(1000); };
  const auto is_share = [](Rate rate) { return rate >= Rate{} && rate <= Rate::percent(100); };
  const auto is_minutes = [](std::int64_t minutes) { return minutes >= 0 && minutes <= 10'000; };

  std::set<std::string_view> priced;
  for (const FilmPrice& film : list.films) {
    if (film.film.empty()) return refuse("a price without a film", "films", "Name the film.");
    if (!priced.insert(film.film).second) {
      return refuse("a film priced twice", "films " + film.film, "Keep one of the prices.");
    }
    if (!is_price(film.square_metre)) {
      return refuse("a price out of range", "films " + film.film, "Prices are not negative.");
    }
  }
  const std::pair<Money, const char*> prices[] = {{list.other_film, "other_film"},
                                                  {list.hour, "hour"},
                                                  {list.hour_cost, "hour_cost"},
                                                  {list.coating_material, "coating_material"},
                                                  {list.consumables_vehicle, "consumables_vehicle"},
                                                  {list.consumables_metre, "consumables_metre"}};
  for (const auto& [price, field] : prices) {
    if (!is_price(price)) return refuse("a price out of range", field, "Prices are not negative.");
  }
  const std::pair<Rate, const char*> rates[] = {{list.film_markup, "film_markup"},
                                                {list.usual_waste, "usual_waste"},
                                                {list.material_markup, "material_markup"}};
  for (const auto& [rate, field] : rates) {
    if (!is_rate(rate)) return refuse("a rate out of range", field, "Rates are 0 to 1000 %.");
  }
  const std::pair<Rate, const char*> shares[] = {
      {list.tax, "tax"}, {list.deposit, "deposit"}, {list.least_margin, "least_margin"}};
  for (const auto& [rate, field] : shares) {
    if (!is_share(rate)) return refuse("a share out of range", field, "Shares are 0 to 100 %.");
  }
  const std::pair<std::int64_t, const char*> minutes[] = {
      {list.preparation_vehicle, "preparation_vehicle"},
      {list.preparation_metre, "preparation_metre"},
      {list.coating_metre, "coating_metre"}};
  for (const auto& [count, field] : minutes) {
    if (!is_minutes(count)) {
      return refuse(format("{} minutes", count), field, "Minutes are 0 to 10000.");
    }
  }
  if (list.promise_chance < Rate::percent(50) || list.promise_chance > Rate::percent(99)) {
    return refuse("a chance that no date can be promised at", "promise_chance", "Use 50 to 99 %.");
  }
  if (list.valid_days < 1 || list.valid_days > 365) {
    return refuse(format("{} days", list.valid_days), "valid_days",
                  "A quote stands 1 to 365 days.");
  }
  if (auto sound = hours::check(list.hours); !sound) return sound;
  return check(list.packages, list.looks);
}

Money cost_of(const PriceList& list, std::string_view film) {
  const auto found = std::find_if(list.films.begin(), list.films.end(),
                                  [film](const FilmPrice& price) { return price.film == film; });
  return found == list.films.end() ? list.other_film : found->square_metre;
}

}  // namespace film::shop
