#include "workbench/price_offer.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <set>

#include "base/text.h"
#include "geometry/polygon.h"
#include "layout/stock.h"
#include "store/content_hash.h"
#include "store/store.h"
#include "workbench/detail/film_at_hand.h"
#include "workbench/detail/learnt.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/piece_facts.h"
#include "workbench/piece_layout.h"
#include "workbench/price_list.h"

namespace film::workbench {
namespace {

constexpr double kChance = 0.9;  ///< of the interval told for the hours

/// What one film of the offer is cut from, and its panels.
struct FilmWork {
  shop::Film film;
  std::optional<shop::Roll> roll;  ///< with most film left
  Mm in_stock{0};
  std::vector<FilmSource> sources;
  std::vector<const shop::Panel*> panels;
  std::vector<std::shared_ptr<const PieceFacts>> facts;  ///< null: not known
};

struct Ground {
  std::shared_ptr<const shop::VehicleModel> vehicle;
  shop::PriceList list;
  std::string currency;
  Mm gap;
  cutting::Margins margins;
  std::map<std::string, FilmWork> films;  ///< by id
};

Result<void> check_twice(const std::vector<shop::ScopeItem>& scope) {
  std::set<std::string_view> panels;
  for (const shop::ScopeItem& item : scope) {
    if (panels.insert(item.panel).second) continue;
    return fail(ErrorCode::invalid_input, format("panel {} is there twice", item.panel), "scope",
                "Cover each panel once.");
  }
  return {};
}

Result<Ground> find_ground(Workbench& workbench, const OfferOrder& order) {
  Ground ground;
  if (auto once = check_twice(order.scope); !once) return Failure(once.error());
  auto vehicle = workbench.vehicle(order.vehicle, order.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  ground.vehicle = std::move(*vehicle);
  auto list = price_list(workbench);
  if (!list) return Failure(list.error());
  ground.list = std::move(*list);
  return workbench.store().look([&](store::Book& book) -> Result<Ground> {
    if (auto sound = check_scope(book, *ground.vehicle, order.scope); !sound) {
      return Failure(sound.error());
    }
    const shop::Settings settings = book.settings().value_or(shop::Settings{});
    ground.currency = settings.currency;
    ground.gap = settings.piece_gap;
    ground.margins = knife_margins(book);
    const std::vector<shop::Roll> rolls = book.rolls();
    for (const shop::ScopeItem& item : order.scope) {
      FilmWork& work = ground.films[item.film];
      if (work.panels.empty()) {
        work.film = *book.film(item.film);
        for (const shop::Roll& roll : rolls) {
          if (roll.film != item.film) continue;
          work.in_stock = work.in_stock + roll.remaining;
          if (!work.roll || roll.remaining > work.roll->remaining) work.roll = roll;
        }
        work.sources = film_at_hand(book, item.film, ground.gap.value);
      }
      work.panels.push_back(shop::find_panel(*ground.vehicle, item.panel));
    }
    return std::move(ground);
  });
}

/// Finds the facts of all panels; those of which no piece can be made are told in `notes`.
Result<void> find_facts(const Workbench& workbench, Ground& ground, const OfferOrder& order,
                        std::vector<std::string>& notes, const Context& context) {
  const Mm side_margins = ground.margins.low + ground.margins.high;
  const Studying studying = order.study ? Studying::as_needed : Studying::never;
  for (auto& [id, work] : ground.films) {
    work.facts.resize(work.panels.size());
    if (!work.roll) {
      notes.push_back(
          format("{}: there is no roll of it, so film is reckoned by area", work.film.name));
      continue;
    }
    const auto terms = study_terms(workbench, ground.vehicle->id, ground.vehicle->version, id);
    if (!terms) return Failure(terms.error());
    std::mutex mutex;
    std::optional<Error> fatal;
    const Context alone([&context] { return context.stopped(); });
    context.executor().run(work.panels.size(), [&](std::size_t i) {
      auto facts = piece_facts(workbench, *terms, side_margins, *work.panels[i], studying, alone);
      const std::lock_guard lock(mutex);
      if (facts) {
        work.facts[i] = std::move(*facts);
      } else if (facts.error().code == ErrorCode::cancelled ||
                 facts.error().code == ErrorCode::io) {
        fatal = facts.error();
      } else {
        notes.push_back(format("{}: {}", work.panels[i]->name, facts.error().message()));
      }
    });
    if (fatal) return Failure(*fatal);
  }
  std::sort(notes.begin(), notes.end());
  return {};
}

/// What goes of an offcut, mm^2: all but a rest that is long enough to be stock again.
double gone_of(const layout::Portion& portion, const layout::Terms& terms) {
  const layout::Strip& strip = portion.problem.strip;
  double sheet = strip.width * strip.maximum_length;
  for (const Polygon& defect : strip.defects) sheet -= film::area(defect);
  const double rest = strip.maximum_length - portion.solution.length;
  return std::max(0.0, sheet - (rest >= terms.least_rest ? rest * strip.width : 0));
}

FilmLaid laid_of(const layout::Allotment& allotment, const std::vector<FilmSource>& sources,
                 const layout::Terms& terms) {
  FilmLaid laid;
  for (const layout::Portion& portion : allotment.portions) {
    const FilmSource& source = sources[portion.stock];
    const double width = source.film.width.value;
    const double length = source.offcut ? source.film.remaining.value : portion.solution.length;
    laid.cuts.push_back(
        {source.film.id, source.offcut, portion.solution.placements.size(), length, width});
    laid.needed += source.offcut ? terms.offcut_worth * gone_of(portion, terms) : length * width;
  }
  for (const layout::Left& left : allotment.left) {
    laid.left.emplace_back(left.demand, left.reason);
  }
  return laid;
}

/// The pieces parted among the film at hand by first layouts, which come at once; remembered by
/// the pieces and the film.
Result<FilmLaid> lay(const Workbench& workbench, const Ground& ground, const FilmWork& work,
                     const Context& context) {
  std::string key =
      format("{} {} {} {} {} {} {} {}\n", ground.vehicle->id, ground.vehicle->version, work.film.id,
             ground.gap.value, ground.margins.lead.value, ground.margins.trail.value,
             ground.margins.low.value, ground.margins.high.value);
  for (const FilmSource& source : work.sources) {
    key += format("{} {} {}\n", source.film.id, source.film.remaining.value,
                  source.strip.defects.size());
  }
  std::vector<pattern::Piece> pieces;
  for (std::size_t i = 0; i < work.panels.size(); ++i) {
    if (!work.facts[i]) continue;
    key += work.panels[i]->id + "\n";
    pieces.insert(pieces.end(), work.facts[i]->pieces.begin(), work.facts[i]->pieces.end());
  }
  if (const auto known = workbench.offers().layout(key)) return *known;
  std::vector<layout::Demand> demands;
  for (layout::Item& item : items_of(pieces)) demands.push_back({std::move(item), {}});
  std::vector<layout::Stock> stocks;
  for (const FilmSource& source : work.sources) {
    stocks.push_back({source.film.id, {}, source.strip, source.offcut, 1});
  }
  const layout::Terms terms = stock_terms();
  const Context at_once([] { return true; }, {}, &context.executor());
  const auto allotment = layout::allot(demands, stocks, terms, {}, at_once);
  if (!allotment) return Failure(allotment.error());
  FilmLaid laid = laid_of(*allotment, work.sources, terms);
  workbench.offers().keep(key, laid);
  return laid;
}

std::int64_t rounded(double value) { return static_cast<std::int64_t>(std::llround(value)); }

/// Film for an area without a layout.
double with_waste(const Ground& ground, double area) {
  return area * (1 + static_cast<double>(ground.list.usual_waste.millionths) / 1e6);
}

Result<shop::FilmAmount> film_amount(const Workbench& workbench, const Ground& ground,
                                     const FilmWork& work, std::vector<std::string>& notes,
                                     const Context& context) {
  shop::FilmAmount amount;
  amount.film = work.film.id;
  amount.name = work.film.name;
  amount.in_stock = work.in_stock.value;
  double area = 0;
  double unlaid = 0;
  std::vector<const pattern::Piece*> pieces;
  for (std::size_t i = 0; i < work.panels.size(); ++i) {
    if (!work.facts[i]) {
      unlaid += surface_area(work.panels[i]->surface);
      ++amount.pieces;
      continue;
    }
    for (const pattern::Piece& piece : work.facts[i]->pieces) {
      area += film::area(piece.cut);
      pieces.push_back(&piece);
      ++amount.pieces;
    }
  }
  area += unlaid;
  amount.area = rounded(area);
  double needed = 0;
  if (!pieces.empty()) {
    auto laid = lay(workbench, ground, work, context);
    if (!laid) return Failure(laid.error());
    needed = laid->needed;
    double most = 0;
    for (const shop::FilmCut& cut : laid->cuts) {
      if (cut.offcut) continue;
      amount.length += cut.length;
      if (cut.length > most) amount.roll_width = cut.width;
      most = std::max(most, cut.length);
    }
    amount.cuts = std::move(laid->cuts);
    std::map<std::string, std::vector<std::string>> left;
    for (const auto& [index, why] : laid->left) {
      unlaid += film::area(pieces[index]->cut);
      left[why].push_back(pieces[index]->name);
    }
    for (const auto& [why, names] : left) {
      notes.push_back(format(
          "{}: {} reckoned by area: {}", work.film.name,
          names.size() == 1 ? names.front() + " is" : format("{} pieces are", names.size()), why));
    }
  }
  amount.basis = unlaid > 0 ? shop::FilmBasis::area : shop::FilmBasis::layout;
  amount.needed = rounded(needed + with_waste(ground, unlaid));
  return amount;
}

bool is_coated(const shop::Panel& panel) {
  return panel.finish == shop::Finish::gloss_paint || panel.finish == shop::Finish::matte_paint ||
         panel.finish == shop::Finish::gloss_black;
}

Result<shop::MinuteRange> laying_time(const Workbench& workbench, const Ground& ground,
                                      const std::string& installer) {
  std::vector<hours::Amounts> pieces;
  for (const auto& [id, work] : ground.films) {
    for (std::size_t i = 0; i < work.panels.size(); ++i) {
      pieces.push_back(work.facts[i] ? work.facts[i]->amounts
                                     : amounts_of_surface(*work.panels[i]));
    }
  }
  if (pieces.empty()) return shop::MinuteRange{};
  const auto learnt = learnt_model(workbench, ground.list.hours);
  if (!learnt) return Failure(learnt.error());
  const hours::Estimate estimate = (*learnt)->model.estimate(pieces, installer);
  const hours::Interval interval = estimate.interval(kChance);
  return shop::MinuteRange{rounded(std::max(0.0, estimate.minutes.mean)), rounded(interval.low),
                           rounded(interval.high)};
}

Result<shop::WorkNeed> work_need(const Workbench& workbench, Ground& ground,
                                 const OfferOrder& order, const Context& context) {
  shop::WorkNeed need;
  if (auto found = find_facts(workbench, ground, order, need.notes, context); !found) {
    return Failure(found.error());
  }
  for (const auto& [id, work] : ground.films) {
    auto amount = film_amount(workbench, ground, work, need.notes, context);
    if (!amount) return Failure(amount.error());
    need.films.push_back(std::move(*amount));
    for (const shop::Panel* panel : work.panels) {
      const std::int64_t area = rounded(surface_area(panel->surface));
      need.covered_area += area;
      if (order.coating && is_coated(*panel)) need.coated_area += area;
    }
  }
  std::sort(need.films.begin(), need.films.end(),
            [](const auto& a, const auto& b) { return a.name < b.name; });
  const auto minutes = laying_time(workbench, ground, order.installer);
  if (!minutes) return Failure(minutes.error());
  need.laying = *minutes;
  return need;
}

template <class Record>
Result<Record> find_named(const std::vector<Record>& records, const std::string& id,
                          const char* what) {
  for (const Record& record : records) {
    if (record.id == id) return record;
  }
  return fail(ErrorCode::not_found, format("there is no such {}", what), format("{} {}", what, id),
              "Choose one of the price list's.");
}

struct Rules {
  std::shared_ptr<const shop::VehicleModel> vehicle;
  shop::PriceList list;
  std::vector<shop::Film> films;
};

Result<Rules> find_rules(Workbench& workbench, const std::string& id) {
  auto vehicle = workbench.vehicle(id);
  if (!vehicle) return Failure(vehicle.error());
  auto list = price_list(workbench);
  if (!list) return Failure(list.error());
  auto films = workbench.store().look([](store::Book& book) { return book.films(); });
  if (!films) return Failure(films.error());
  return Rules{std::move(*vehicle), std::move(*list), std::move(*films)};
}

}  // namespace

Result<PricedOffer> price_offer(Workbench& workbench, const OfferOrder& order,
                                const Context& context) {
  auto ground = find_ground(workbench, order);
  if (!ground) return Failure(ground.error());
  auto work = work_need(workbench, *ground, order, context);
  if (!work) return Failure(work.error());
  auto price = shop::price_of(*work, ground->list, order.discount);
  if (!price) return Failure(price.error());

  PricedOffer offer;
  offer.vehicle_version = ground->vehicle->version;
  offer.price_list = ground->list.revision;
  offer.currency = ground->currency;
  offer.work = std::move(*work);
  offer.price = std::move(*price);
  shop::Job job;
  job.scope = order.scope;
  offer.concerns = shop::open_concerns(job, *ground->vehicle, {}, "");
  for (const auto& [id, film] : ground->films) {
    for (std::size_t i = 0; i < film.panels.size() && film.roll && !order.study; ++i) {
      if (!film.facts[i]) offer.waiting.push_back({film.panels[i]->id, id});
    }
  }
  return offer;
}

Result<std::vector<shop::Proposal>> propose_scope(Workbench& workbench, const std::string& vehicle,
                                                  const std::string& package,
                                                  const std::string& look) {
  const auto rules = find_rules(workbench, vehicle);
  if (!rules) return Failure(rules.error());
  const auto chosen = find_named(rules->list.packages, package, "package");
  if (!chosen) return Failure(chosen.error());
  const auto how = find_named(rules->list.looks, look, "look");
  if (!how) return Failure(how.error());
  return shop::propose(*chosen, *how, *rules->vehicle, rules->films);
}

Result<std::vector<shop::Proposal>> propose_all(Workbench& workbench, const std::string& vehicle,
                                                const std::string& look) {
  const auto rules = find_rules(workbench, vehicle);
  if (!rules) return Failure(rules.error());
  const auto how = find_named(rules->list.looks, look, "look");
  if (!how) return Failure(how.error());
  std::vector<shop::Proposal> proposals;
  for (const shop::Panel& panel : rules->vehicle->panels) {
    proposals.push_back(shop::propose(*how, panel, rules->films));
  }
  return proposals;
}

}  // namespace film::workbench
