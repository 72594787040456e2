#include "layout/stock.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <optional>
#include <set>
#include <unordered_set>
#include <utility>

#include "base/text.h"
#include "layout/solve.h"

namespace film::layout {
namespace {

constexpr std::uint64_t kTrialShare = 5;
constexpr double kTrialTime = 0.25;

std::optional<Error> fault_of(const std::vector<Stock>& stocks, const Terms& terms) {
  const auto sound = [](double value) { return std::isfinite(value) && value >= 0; };
  if (!sound(terms.handling) || !sound(terms.least_rest) || !sound(terms.offcut_worth) ||
      !(terms.usual_use > 0 && terms.usual_use <= 1)) {
    return Error{
        ErrorCode::invalid_input, "worth and lengths must be 0 or more, use above 0", "terms", {}};
  }
  std::unordered_set<std::string> ids;
  for (const Stock& stock : stocks) {
    if (!sound(stock.price)) {
      return Error{
          ErrorCode::invalid_input, "the price must be 0 or more", "stock " + stock.id, {}};
    }
    if (stock.offcut && !std::isfinite(stock.strip.maximum_length)) {
      return Error{ErrorCode::invalid_input, "an offcut has an end", "stock " + stock.id,
                   "Make its strip with strip_of_offcut"};
    }
    if (!ids.insert(stock.id).second) {
      return Error{ErrorCode::invalid_input, "two stocks have this id", "stock " + stock.id, {}};
    }
  }
  return std::nullopt;
}

double area_of(const Strip& strip) {
  double sum = strip.width * strip.maximum_length;
  for (const Polygon& defect : strip.defects) sum -= area(defect);
  return sum;
}

/// Lays the demands of one film.
class Allotting {
 public:
  Allotting(const std::vector<Demand>& demands, const std::vector<Stock>& stocks,
            const Terms& terms, const AllotOptions& options, const Context& context)
      : demands_(demands), stocks_(stocks), terms_(terms), options_(options), context_(context) {
    for (const Demand& demand : demands) open_.push_back(demand.item.quantity);
  }

  Result<Allotment> run() {
    std::vector<std::string> films;
    for (const Demand& demand : demands_) {
      if (std::find(films.begin(), films.end(), demand.film) == films.end()) {
        films.push_back(demand.film);
      }
    }
    for (const std::string& film : films) {
      if (auto done = choose(film); !done) return Failure(done.error());
    }
    for (Portion& portion : out_.portions) {
      if (auto done = finish(portion); !done) return Failure(done.error());
      out_.cost += portion.cost;
    }
    name_left();
    return std::move(out_);
  }

 private:
  /// The portions of one film and what is then still open of every demand.
  struct Choice {
    std::vector<Portion> portions;
    std::vector<int> open;
  };

  /// What an offcut saves is known only when the rest is laid too: each one that was taken is left
  /// on the shelf again if that comes out cheaper.
  Result<void> choose(const std::string& film) {
    const std::vector<int> open = open_;
    passed_over_.clear();
    auto best = use_stock(film);
    if (!best) return Failure(best.error());
    for (const std::size_t s : offcuts_in(*best)) {
      open_ = open;
      passed_over_.insert(s);
      auto without = use_stock(film);
      if (!without) return Failure(without.error());
      if (better(*without, *best)) {
        best = std::move(without);
      } else {
        passed_over_.erase(s);
      }
    }
    open_ = std::move(best->open);
    std::move(best->portions.begin(), best->portions.end(), std::back_inserter(out_.portions));
    return {};
  }

  Result<Choice> use_stock(const std::string& film) {
    portions_.clear();
    used_.assign(stocks_.size(), false);
    if (auto done = use_offcuts(film); !done) return Failure(done.error());
    if (auto done = use_rolls(film); !done) return Failure(done.error());
    return Choice{std::move(portions_), open_};
  }

  [[nodiscard]] std::vector<std::size_t> offcuts_in(const Choice& choice) const {
    std::vector<std::size_t> out;
    for (const Portion& portion : choice.portions) {
      if (stocks_[portion.stock].offcut) out.push_back(portion.stock);
    }
    return out;
  }

  /// Less area is left, or as little for less money.
  [[nodiscard]] bool better(const Choice& a, const Choice& b) const {
    double left = 0;  // a less b
    for (std::size_t d = 0; d < demands_.size(); ++d) {
      left += (a.open[d] - b.open[d]) * area(demands_[d].item.shape);
    }
    if (left != 0) return left < 0;
    const auto cost = [](const Choice& choice) {
      double sum = 0;
      for (const Portion& portion : choice.portions) sum += portion.cost;
      return sum;
    };
    return cost(a) < cost(b);
  }

  /// Small offcuts first: a large one can still serve later.
  Result<void> use_offcuts(const std::string& film) {
    std::vector<std::size_t> offcuts;
    for (std::size_t s = 0; s < stocks_.size(); ++s) {
      if (!stocks_[s].offcut || stocks_[s].film != film || passed_over_.count(s) > 0) continue;
      offcuts.push_back(s);
    }
    std::stable_sort(offcuts.begin(), offcuts.end(), [&](std::size_t a, std::size_t b) {
      return area_of(stocks_[a].strip) < area_of(stocks_[b].strip);
    });
    const std::optional<double> roll_price = cheapest_roll(film);
    for (const std::size_t s : offcuts) {
      if (nothing_open(film)) break;
      auto trial = lay(s, film);
      if (!trial) return Failure(trial.error());
      if (trial->solution.placements.empty()) continue;
      double saved = std::numeric_limits<double>::infinity();  // without a roll there is no choice
      if (roll_price) saved = covered(*trial) / terms_.usual_use * *roll_price;
      if (saved > trial->cost) take(*std::move(trial));
    }
    return {};
  }

  Result<void> use_rolls(const std::string& film) {
    while (!nothing_open(film)) {
      std::optional<Portion> best;
      double least = 0;
      for (std::size_t s = 0; s < stocks_.size(); ++s) {
        if (stocks_[s].offcut || stocks_[s].film != film || used_[s]) continue;
        auto trial = lay(s, film);
        if (!trial) return Failure(trial.error());
        if (trial->solution.placements.empty()) continue;
        // What is left must be cut from another roll, at about the same price.
        double later = 0;
        for (std::size_t d = 0; d < demands_.size(); ++d) {
          if (demands_[d].film == film) later += open_[d] * area(demands_[d].item.shape);
        }
        later = std::max(0.0, later - covered(*trial)) / terms_.usual_use * stocks_[s].price;
        const double cost = trial->cost + later + (later > 0 ? terms_.handling : 0);
        if (!best || cost < least) {
          least = cost;
          best = *std::move(trial);
        }
      }
      if (!best) break;
      take(*std::move(best));
    }
    return {};
  }

  [[nodiscard]] bool nothing_open(const std::string& film) const {
    for (std::size_t d = 0; d < demands_.size(); ++d) {
      if (demands_[d].film == film && open_[d] > 0) return false;
    }
    return true;
  }
  [[nodiscard]] std::optional<double> cheapest_roll(const std::string& film) const {
    std::optional<double> price;
    for (const Stock& stock : stocks_) {
      if (stock.offcut || stock.film != film) continue;
      price = std::min(price.value_or(stock.price), stock.price);
    }
    return price;
  }
  static double covered(const Portion& portion) {
    double sum = 0;
    for (const PlacedPiece& p : portion.solution.placements) {
      sum += area(portion.problem.items[p.item].shape);
    }
    return sum;
  }

  /// All that is open of the film, on one stock, as a short search lays it. All trials together
  /// take a quarter of the time at most; past it they are first layouts, which come at once.
  Result<Portion> lay(std::size_t s, const std::string& film) {
    ++trials_;
    const double until =
        kTrialTime * std::min(1.0, trials_ / (2.0 * static_cast<double>(stocks_.size())));
    const Context context(
        [this, until] {
          return context_.stopped() || (options_.share_spent && options_.share_spent() > until);
        },
        {}, &context_.executor());
    const std::uint64_t passes = options_.iteration_limit / kTrialShare + 1;
    Portion portion;
    portion.stock = s;
    portion.problem.name = stocks_[s].id;
    portion.problem.strip = stocks_[s].strip;
    portion.problem.grouping = options_.grouping;
    for (std::size_t d = 0; d < demands_.size(); ++d) {
      if (demands_[d].film != film || open_[d] == 0) continue;
      portion.problem.items.push_back(demands_[d].item);
      portion.problem.items.back().quantity = open_[d];
      portion.item_of.push_back(d);
    }
    while (true) {
      auto solution =
          solve(portion.problem, {.seed = options_.seed, .iteration_limit = passes}, context);
      if (!solution) return Failure(solution.error());
      portion.solution = *std::move(solution);
      if (options_.grouping == Grouping::free || !drop_torn_groups(portion)) break;
    }
    portion.cost = cost_of(portion);
    return portion;
  }

  /// Groups of which a piece was left out are taken out altogether; was there one?
  static bool drop_torn_groups(Portion& portion) {
    std::set<std::string> torn;
    for (const Unplaced& piece : portion.solution.unplaced) {
      torn.insert(portion.problem.items[piece.item].group);
    }
    bool any = false;
    for (Item& item : portion.problem.items) {
      if (item.quantity == 0 || !torn.count(item.group)) continue;
      item.quantity = 0;
      any = true;
    }
    return any;
  }

  [[nodiscard]] double cost_of(const Portion& portion) const {
    const Stock& stock = stocks_[portion.stock];
    const Strip& strip = stock.strip;
    const double rest = strip.maximum_length - portion.solution.length;
    double waste = std::isfinite(rest) && rest < terms_.least_rest ? rest * strip.width : 0;
    double cost = portion.solution.length * strip.width * stock.price;
    if (stock.offcut) {
      const double kept = rest >= terms_.least_rest ? rest * strip.width : 0;
      cost = std::max(0.0, area_of(strip) - kept) * stock.price * terms_.offcut_worth;
      waste = 0;
    }
    return cost + waste * stock.price + terms_.handling;
  }

  /// Books the portion: what is not laid in it stays open.
  void take(Portion portion) {
    used_[portion.stock] = true;
    std::vector<int> laid(portion.problem.items.size(), 0);
    for (const PlacedPiece& p : portion.solution.placements) ++laid[p.item];
    Problem problem = portion.problem;
    problem.items.clear();
    std::vector<std::size_t> item_of;
    std::vector<std::size_t> index(laid.size(), 0);
    for (std::size_t i = 0; i < laid.size(); ++i) {
      if (laid[i] == 0) continue;
      index[i] = problem.items.size();
      problem.items.push_back(portion.problem.items[i]);
      problem.items.back().quantity = laid[i];
      item_of.push_back(portion.item_of[i]);
      open_[portion.item_of[i]] -= laid[i];
    }
    std::vector<int> next(problem.items.size(), 0);
    for (PlacedPiece& p : portion.solution.placements) {
      p.item = index[p.item];
      p.copy = next[p.item]++;
    }
    portion.solution.unplaced.clear();
    portion.problem = std::move(problem);
    portion.item_of = std::move(item_of);
    portions_.push_back(std::move(portion));
  }

  /// The long search, from the trial's layout.
  Result<void> finish(Portion& portion) {
    double all = 0;
    for (const Portion& other : out_.portions) all += covered(other);
    const double begun = options_.share_spent ? kTrialTime : 0;
    const double from = begun + (1 - begun) * finished_ / all;
    finished_ += covered(portion);
    const double share = begun + (1 - begun) * finished_ / all - from;
    SolveOptions options{.seed = options_.seed, .iteration_limit = options_.iteration_limit};
    options.start = portion.solution.placements;
    if (options_.share_spent) {
      options.iteration_limit = 0;
      options.share_spent = [&, from, share] { return (options_.share_spent() - from) / share; };
    }
    auto solution = solve(portion.problem, options, context_);
    if (!solution) return Failure(solution.error());
    // A stop may come before the search has got as far as the trial.
    if (solution->unplaced.empty() && solution->length <= portion.solution.length) {
      portion.solution = *std::move(solution);
    }
    portion.cost = cost_of(portion);
    return {};
  }

  void name_left() {
    for (std::size_t d = 0; d < demands_.size(); ++d) {
      if (open_[d] > 0) out_.left.push_back({d, open_[d], why_left(demands_[d])});
    }
  }
  [[nodiscard]] std::string why_left(const Demand& demand) const {
    bool any = false;
    double widest = 0;
    for (const Stock& stock : stocks_) {
      if (stock.film != demand.film) continue;
      any = true;
      const Margins& m = stock.strip.margins;
      widest = std::max(widest, stock.strip.width - m.low - m.high);
    }
    if (!any) return "there is no film of this kind";
    const double least = least_width(demand.item);
    if (least > widest) {
      return format(
          "wider than all film at hand: its least width is {:.6g}, the widest offers "
          "{:.6g}",
          least, widest);
    }
    if (options_.grouping == Grouping::in_turn) {
      return "its group does not fit what is left of any one roll";
    }
    return "there is not enough film of this kind left";
  }

  const std::vector<Demand>& demands_;
  const std::vector<Stock>& stocks_;
  const Terms& terms_;
  const AllotOptions& options_;
  const Context& context_;
  std::vector<int> open_;  // copies still to be cut, of each demand
  // The choice being made: what is used, what is laid, which offcuts are left on the shelf.
  std::vector<bool> used_;
  std::vector<Portion> portions_;
  std::set<std::size_t> passed_over_;
  double finished_ = 0;  // area
  double trials_ = 0;
  Allotment out_;
};

}  // namespace

Result<Allotment> allot(const std::vector<Demand>& demands, const std::vector<Stock>& stocks,
                        const Terms& terms, const AllotOptions& options, const Context& context) {
  if (auto fault = fault_of(stocks, terms)) return tl::unexpected(*std::move(fault));
  return Allotting(demands, stocks, terms, options, context).run();
}

}  // namespace film::layout
