#include "workbench/detail/portions.h"

#include <algorithm>

#include "base/text.h"
#include "host/stop.h"

namespace film::workbench {
namespace {

// Fetching and loading one more roll is worth this much film (common practice).
constexpr double kHandling = 0.1e6;  // mm^2

layout::Problem problem_on(const FilmSource& source, const PortionOrder& order) {
  layout::Problem problem;
  problem.name = order.name + " " + source.film.id;
  problem.units = "mm";
  problem.strip = source.strip;
  return problem;
}

}  // namespace

layout::Terms stock_terms() {
  layout::Terms terms;
  terms.handling = kHandling;
  return terms;
}

Result<std::vector<FilmPortion>> part(const std::vector<layout::Item>& items,
                                      const std::vector<FilmSource>& sources,
                                      const PortionOrder& order, const Context& context) {
  std::vector<FilmPortion> portions;
  if (sources.size() == 1) {
    portions.push_back({sources.front(), problem_on(sources.front(), order), {}});
    portions.back().problem.items = items;
    return portions;
  }
  std::vector<layout::Demand> demands;
  for (const layout::Item& item : items) demands.push_back({item, {}});
  std::vector<layout::Stock> stocks;
  for (const FilmSource& source : sources) {
    stocks.push_back({source.film.id, {}, source.strip, source.offcut, 1});
  }
  const layout::Terms terms = stock_terms();
  const host::Stopwatch watch;
  const auto time_up = host::stop_after(order.seconds);
  layout::AllotOptions options;
  options.seed = order.seed;
  options.share_spent = [&] { return watch.seconds() / order.seconds; };
  const Context limited([&] { return context.stopped() || time_up(); }, {}, &context.executor());
  context.report("choosing rolls and offcuts", -1);
  const auto allotment = layout::allot(demands, stocks, terms, options, limited);
  if (!allotment) return Failure(allotment.error());
  if (!allotment->left.empty()) {
    const layout::Left& first = allotment->left.front();
    return fail(ErrorCode::unsupported,
                format("{} of {} pieces cannot be laid on the film at hand; the first is {}: {}",
                       allotment->left.size(), items.size(), items[first.demand].id, first.reason),
                order.name, "Receive more film, or film that is wide enough.");
  }
  for (const layout::Portion& portion : allotment->portions) {
    portions.push_back({sources[portion.stock], portion.problem, portion.solution.placements});
    layout::Problem problem = problem_on(sources[portion.stock], order);
    problem.items = portion.problem.items;
    portions.back().problem = std::move(problem);
  }
  return portions;
}

}  // namespace film::workbench
