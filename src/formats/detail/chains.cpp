#include "formats/detail/chains.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <set>
#include <tuple>
#include <utility>

#include "base/text.h"

namespace film::formats::detail {
namespace {

constexpr std::size_t kFree = std::numeric_limits<std::size_t>::max();

/// End 2k is the start of chain k, end 2k + 1 its end.
Vec2 end_point(const std::vector<Chain>& chains, std::size_t end) {
  const Polyline& points = chains[end / 2].points;
  return end % 2 == 0 ? points.front() : points.back();
}

void drop_repeats(Polyline& points) {
  points.erase(std::unique(points.begin(), points.end()), points.end());
}

/// The places of a line to 1e-4 mm, the same whichever way and from wherever it is drawn.
std::vector<std::pair<std::int64_t, std::int64_t>> places(const Chain& chain) {
  std::vector<std::pair<std::int64_t, std::int64_t>> all;
  for (const Vec2 p : chain.points) {
    all.emplace_back(std::llround(p.x * 1e4), std::llround(p.y * 1e4));
  }
  if (chain.closed) {
    std::rotate(all.begin(), std::min_element(all.begin(), all.end()), all.end());
    if (all.size() > 2 && all.back() < all[1]) {
      std::reverse(all.begin() + 1, all.end());
    }
  } else if (all.back() < all.front()) {
    std::reverse(all.begin(), all.end());
  }
  return all;
}

std::size_t drop_doubles(std::vector<Chain>& chains) {
  std::set<std::vector<std::pair<std::int64_t, std::int64_t>>> seen;
  const std::size_t before = chains.size();
  std::erase_if(chains, [&](const Chain& chain) { return !seen.insert(places(chain)).second; });
  return before - chains.size();
}

struct Pair {
  bool across_layers = false;
  double gap = 0;
  std::size_t a = 0, b = 0;
};

/// An end in its square cell of the tolerance's width.
struct Placed {
  double column, row;  // whole numbers
  std::size_t end;

  friend bool operator<(const Placed& a, const Placed& b) {
    return std::tie(a.column, a.row, a.end) < std::tie(b.column, b.row, b.end);
  }
};

/// All pairs of ends within the tolerance: those in the same or a neighbouring cell.
std::vector<Pair> near_pairs(const std::vector<Chain>& chains, double tolerance) {
  constexpr std::ptrdiff_t kMostPartners = 64;  // where thousands of lines meet, a few will do
  std::vector<Placed> placed;
  for (std::size_t end = 0; end < 2 * chains.size(); ++end) {
    const Vec2 at = end_point(chains, end) / std::max(tolerance, 1e-9);
    placed.push_back({std::floor(at.x), std::floor(at.y), end});
  }
  std::sort(placed.begin(), placed.end());
  std::vector<Pair> pairs;
  for (const Placed& here : placed) {
    const Vec2 at = end_point(chains, here.end);
    for (const double column : {here.column - 1, here.column, here.column + 1}) {
      auto there = std::lower_bound(placed.begin(), placed.end(), Placed{column, here.row - 1, 0});
      for (std::ptrdiff_t n = 0; n < kMostPartners && there != placed.end(); ++n, ++there) {
        if (there->column != column || there->row > here.row + 1) break;
        const double gap = distance(at, end_point(chains, there->end));
        if (there->end <= here.end || gap > tolerance) continue;
        pairs.push_back({chains[here.end / 2].layer != chains[there->end / 2].layer, gap, here.end,
                         there->end});
      }
    }
  }
  std::sort(pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) {
    return std::tie(a.across_layers, a.gap, a.a, a.b) < std::tie(b.across_layers, b.gap, b.a, b.b);
  });
  return pairs;
}

std::vector<std::size_t> partners(const std::vector<Chain>& chains, double tolerance) {
  std::vector<std::size_t> partner(2 * chains.size(), kFree);
  for (const Pair& pair : near_pairs(chains, tolerance)) {
    const bool own_ends = pair.a / 2 == pair.b / 2;
    if (own_ends && length_of(chains[pair.a / 2].points) <= 3 * tolerance) continue;  // a speck
    if (partner[pair.a] != kFree || partner[pair.b] != kFree) continue;
    partner[pair.a] = pair.b;
    partner[pair.b] = pair.a;
  }
  return partner;
}

/// Follows chains from end to end; `start` is the end it sets out from.
Chain followed(const std::vector<Chain>& chains, const std::vector<std::size_t>& partner,
               std::size_t start, std::vector<bool>& used) {
  Chain whole{{}, false, chains[start / 2].layer, chains[start / 2].where};
  for (std::size_t end = start;;) {
    const std::size_t chain = end / 2;
    used[chain] = true;
    Polyline points = chains[chain].points;
    if (end % 2 == 1) std::reverse(points.begin(), points.end());
    whole.points.insert(whole.points.end(), points.begin(), points.end());
    const std::size_t next = partner[end ^ 1];
    if (next == start) {
      whole.closed = true;
      break;
    }
    if (next == kFree) break;
    end = next;
  }
  drop_repeats(whole.points);
  return whole;
}

void add_loop(Chain chain, double tolerance, DrawnLoops& result) {
  Ring& ring = chain.points;
  drop_repeats(ring);
  while (ring.size() > 1 && distance(ring.front(), ring.back()) <= 1e-9) ring.pop_back();
  if (ring.size() < 3 || std::abs(signed_area(ring)) <= tolerance * tolerance) {
    result.notes.push_back(format("{}: a closed line without area was left out", chain.where));
    return;
  }
  result.loops.push_back({std::move(ring), std::move(chain.layer), std::move(chain.where)});
}

void measure_gaps(std::vector<LooseEnd>& loose) {
  std::sort(loose.begin(), loose.end(),
            [](const LooseEnd& a, const LooseEnd& b) { return a.at.x < b.at.x; });
  for (std::size_t i = 0; i < loose.size(); ++i) {
    loose[i].gap = std::numeric_limits<double>::infinity();
    for (std::size_t j = i; j-- > 0 && loose[i].at.x - loose[j].at.x < loose[i].gap;) {
      loose[i].gap = std::min(loose[i].gap, distance(loose[i].at, loose[j].at));
    }
    for (std::size_t j = i + 1; j < loose.size() && loose[j].at.x - loose[i].at.x < loose[i].gap;
         ++j) {
      loose[i].gap = std::min(loose[i].gap, distance(loose[i].at, loose[j].at));
    }
  }
}

Result<void> check(const std::vector<Chain>& chains, const DrawingOptions& options) {
  std::size_t count = 0;
  for (const Chain& chain : chains) {
    count += chain.points.size();
    for (const Vec2 p : chain.points) {
      if (std::abs(p.x) < 1e6 && std::abs(p.y) < 1e6) continue;
      return fail(ErrorCode::invalid_input, "a coordinate is not finite or further off than 1 km",
                  chain.where, "Check the drawing's units");
    }
  }
  if (count > options.most_points) {
    return fail(ErrorCode::too_large,
                format("the drawing has more than {} points", options.most_points), {},
                "Simplify it or read it in parts");
  }
  return {};
}

}  // namespace

Result<DrawnLoops> joined(std::vector<Chain> chains, const DrawingOptions& options) {
  if (auto checked = check(chains, options); !checked) return tl::unexpected(checked.error());
  const double tolerance = options.join_tolerance.value;
  DrawnLoops result;
  for (Chain& chain : chains) drop_repeats(chain.points);
  std::erase_if(chains, [](const Chain& chain) { return chain.points.size() < 2; });
  if (const std::size_t doubles = drop_doubles(chains); doubles > 0) {
    result.notes.push_back(format("{} lines were drawn twice; one of each was kept", doubles));
  }
  std::vector<Chain> open;
  for (Chain& chain : chains) {
    if (chain.closed) {
      add_loop(std::move(chain), tolerance, result);
    } else {
      open.push_back(std::move(chain));
    }
  }
  const std::vector<std::size_t> partner = partners(open, tolerance);
  std::vector<bool> used(open.size(), false);
  for (const bool from_loose_ends : {true, false}) {  // open lines first, then what is closed
    for (std::size_t end = 0; end < 2 * open.size(); ++end) {
      if (used[end / 2] || (from_loose_ends && partner[end] != kFree)) continue;
      Chain whole = followed(open, partner, end, used);
      if (whole.closed) {
        add_loop(std::move(whole), tolerance, result);
        continue;
      }
      for (const Vec2 at : {whole.points.front(), whole.points.back()}) {
        result.loose.push_back({at, 0, whole.layer, whole.where});
      }
    }
  }
  measure_gaps(result.loose);
  return result;
}

}  // namespace film::formats::detail
