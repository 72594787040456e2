#include "shop/price.h"

#include <algorithm>
#include <map>
#include <optional>

namespace film::shop {
namespace {

constexpr std::int64_t kSquareMetre = 1'000'000;  // mm^2
constexpr std::int64_t kHour = 60;                // minutes

/// Builds the lines in order; after a fault nothing more is done.
class Lines {
 public:
  Lines(const PriceList& list, Rate discount) : list_(list), discount_(discount) {}

  void film(const FilmAmount& film) {
    const Result<Money> cost = times(cost_of(list_, film.film), {film.needed, kSquareMetre});
    add({PriceKind::film,
         film.film,
         film.name,
         film.needed,
         Measure::square_millimetre,
         {},
         {},
         {},
         {}},
        cost, list_.film_markup);
  }

  void work(PriceKind kind, std::int64_t minutes) {
    PriceLine line{kind, "", "", minutes, Measure::minute, {}, {}, {}, {}};
    add(std::move(line), times(list_.hour_cost, {minutes, kHour}),
        times(list_.hour, {minutes, kHour}));
  }

  void material(PriceKind kind, std::int64_t quantity, Measure measure, Result<Money> cost) {
    add({kind, "", "", quantity, measure, {}, {}, {}, {}}, std::move(cost), list_.material_markup);
  }

  Result<std::vector<PriceLine>> done() && {
    if (fault_) return Failure(*fault_);
    return std::move(lines_);
  }

 private:
  void add(PriceLine line, const Result<Money>& cost, Rate markup) {
    if (!cost) return note(cost);
    const Result<Money> extra = share(*cost, markup);
    if (!extra) return note(extra);
    add(std::move(line), cost, Result<Money>(*cost + *extra));
  }

  void add(PriceLine line, const Result<Money>& cost, const Result<Money>& net) {
    if (!cost) return note(cost);
    if (!net) return note(net);
    if (line.quantity == 0) return;
    const Result<Money> off = share(*net, discount_);
    if (!off) return note(off);
    line.net = *net;
    line.discount = *off;
    line.cost = *cost;
    line.tax = list_.tax;
    lines_.push_back(std::move(line));
  }

  void note(const Result<Money>& failed) {
    if (!fault_) fault_ = failed.error();
  }

  const PriceList& list_;
  Rate discount_;
  std::vector<PriceLine> lines_;
  std::optional<Error> fault_;
};

/// Minutes for so many square metres, half a minute up.
std::int64_t minutes_for(std::int64_t square_millimetres, std::int64_t minutes_a_metre) {
  return (square_millimetres / 1000 * minutes_a_metre + 500) / 1000;
}

/// Splits the amount over the lines in proportion to what is left of them.
Result<void> take_off(std::vector<PriceLine>& lines, Money amount) {
  if (amount == Money{} || (lines.empty() && amount > Money{})) return {};
  std::vector<std::int64_t> left;
  std::vector<Money> parts;
  for (const PriceLine& line : lines) {
    parts.push_back(line.net - line.discount);
    left.push_back(parts.back().minor);
  }
  const Result<Money> most = sum(parts);
  if (!most) return Failure(most.error());
  if (amount < Money{} || amount > *most) {
    return fail(ErrorCode::invalid_input,
                "a discount of less than nothing, or of more than there is", "discount_amount",
                "Take off between nothing and the net sum.");
  }
  const std::vector<Money> shares = split(amount, left);
  for (std::size_t i = 0; i < lines.size(); ++i) lines[i].discount = lines[i].discount + shares[i];
  return {};
}

Rate margin_of(Money sold, Money cost) {
  if (sold.minor <= 0) return {};
  const Result<Money> share_kept = times(Money{sold.minor - cost.minor}, {1'000'000, sold.minor});
  return share_kept ? Rate{share_kept->minor} : Rate{};
}

}  // namespace

Result<Price> summed(std::vector<PriceLine> lines, const PriceList& list) {
  std::vector<Money> nets, discounts, costs;
  std::map<Rate, std::vector<Money>> bases;
  for (const PriceLine& line : lines) {
    nets.push_back(line.net);
    discounts.push_back(line.discount);
    costs.push_back(line.cost);
    bases[line.tax].push_back(line.net - line.discount);
  }
  const Result<Money> net = sum(nets);
  const Result<Money> discount = sum(discounts);
  const Result<Money> cost = sum(costs);
  for (const Result<Money>* part : {&net, &discount, &cost}) {
    if (!*part) return Failure(part->error());
  }
  Price price;
  price.lines = std::move(lines);
  price.net = *net;
  price.discount = *discount;
  price.cost = *cost;
  std::vector<Money> parts{*net - *discount};
  for (const auto& [rate, amounts] : bases) {
    const Result<Money> base = sum(amounts);
    if (!base) return Failure(base.error());
    const Result<Money> tax = share(*base, rate);
    if (!tax) return Failure(tax.error());
    price.taxes.push_back({rate, *base, *tax});
    parts.push_back(*tax);
  }
  const Result<Money> total = sum(parts);
  if (!total) return Failure(total.error());
  const Result<Money> deposit = share(*total, list.deposit);
  if (!deposit) return Failure(deposit.error());
  price.total = *total;
  price.deposit = *deposit;
  price.margin = margin_of(*net - *discount, *cost);
  price.thin = !price.lines.empty() && price.margin < list.least_margin;
  return price;
}

Result<Price> price_of(const WorkNeed& work, const PriceList& list, const Discount& discount) {
  if (discount.share < Rate{} || discount.share > Rate::percent(100)) {
    return fail(ErrorCode::invalid_input, "a discount out of range", "discount",
                "Discounts are 0 to 100 %.");
  }
  const std::int64_t covered = work.covered_area;
  const std::int64_t coated = work.coated_area;
  const bool any = covered > 0 || coated > 0;
  Lines lines(list, discount.share);
  for (const FilmAmount& film : work.films) lines.film(film);
  lines.work(PriceKind::laying, work.laying.expected);
  lines.work(PriceKind::preparation,
             any ? list.preparation_vehicle + minutes_for(covered, list.preparation_metre) : 0);
  lines.work(PriceKind::coating, minutes_for(coated, list.coating_metre));
  lines.material(PriceKind::coating, coated, Measure::square_millimetre,
                 times(list.coating_material, {coated, kSquareMetre}));
  if (any) {
    const Result<Money> by_area = times(list.consumables_metre, {covered, kSquareMetre});
    lines.material(PriceKind::consumables, 1, Measure::vehicle,
                   by_area ? Result<Money>(list.consumables_vehicle + *by_area) : by_area);
  }
  auto made = std::move(lines).done();
  if (!made) return Failure(made.error());
  if (auto done = take_off(*made, discount.amount); !done) return Failure(done.error());
  return summed(std::move(*made), list);
}

}  // namespace film::shop
