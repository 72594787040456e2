#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <numeric>
#include <utility>
#include <vector>

#include "geometry/vec.h"

/// Lower bound and plain orders for open paths through points, apart from the planner's search.
namespace film::test {

/// A place that is entered at one point and left at another.
struct Stop {
  Vec2 entry;
  Vec2 exit;
};

inline std::vector<Stop> stops_at(const std::vector<Vec2>& points) {
  std::vector<Stop> stops;
  for (const Vec2 p : points) stops.push_back({p, p});
  return stops;
}

/// Length of the way from `start` to the stops in order, between them only.
inline double path_length(Vec2 start, const std::vector<Stop>& stops) {
  double sum = 0;
  for (const Stop& stop : stops) {
    sum += distance(start, stop.entry);
    start = stop.exit;
  }
  return sum;
}

/// Length of the path start, points in order.
inline double path_length(Vec2 start, const std::vector<Vec2>& points,
                          const std::vector<std::size_t>& order) {
  std::vector<Stop> stops;
  for (const std::size_t i : order) stops.push_back({points[i], points[i]});
  return path_length(start, stops);
}

/// No path from `start` through all stops is shorter. A path is a spanning tree in which the start
/// and one other node have one edge and all others two; with a weight on each node's edges the
/// least spanning tree bounds it from below, and the weights are raised by subgradient steps. An
/// edge costs the shorter of its two directions.
/// Source: M. Held, R. Karp, "The traveling-salesman problem and minimum spanning trees", Oper.
/// Res. 18, 1970, and part II, Math. Program. 1, 1971, for open paths.
inline double path_bound(Vec2 start, const std::vector<Stop>& stops, double upper,
                         int rounds = 400) {
  std::vector<Stop> at{{start, start}};
  at.insert(at.end(), stops.begin(), stops.end());
  const std::size_t n = at.size();
  const auto between = [&](std::size_t a, std::size_t b) {
    const double there = distance(at[a].exit, at[b].entry);
    const double back = distance(at[b].exit, at[a].entry);
    return a == 0 ? there : b == 0 ? back : std::min(there, back);
  };
  std::vector<double> weight(n, 0);
  double best = 0;
  double step = 1;
  int since = 0;
  for (int round = 0; round < rounds; ++round) {
    // Least spanning tree by Prim.
    std::vector<int> degree(n, 0);
    std::vector<double> key(n, std::numeric_limits<double>::infinity());
    std::vector<std::size_t> parent(n, 0);
    std::vector<char> in(n, 0);
    double tree = 0;
    key[0] = 0;
    for (std::size_t k = 0; k < n; ++k) {
      std::size_t v = n;
      for (std::size_t i = 0; i < n; ++i) {
        if (in[i] == 0 && (v == n || key[i] < key[v])) v = i;
      }
      in[v] = 1;
      if (k > 0) {
        tree += key[v];
        ++degree[v];
        ++degree[parent[v]];
      }
      for (std::size_t i = 0; i < n; ++i) {
        const double cost = between(v, i) + weight[v] + weight[i];
        if (in[i] == 0 && cost < key[i]) {
          key[i] = cost;
          parent[i] = v;
        }
      }
    }
    // The free end is the node whose weight is least.
    const auto end = static_cast<std::size_t>(std::min_element(weight.begin() + 1, weight.end()) -
                                              weight.begin());
    ++degree[end];
    double bound = tree + weight[end] - weight[0];
    double norm = 0;
    for (std::size_t i = 0; i < n; ++i) {
      if (i > 0) bound -= 2 * weight[i];
      const int wanted = i == 0 ? 1 : 2;
      norm += (degree[i] - wanted) * (degree[i] - wanted);
    }
    since = bound > best ? 0 : since + 1;
    best = std::max(best, bound);
    if (norm == 0) break;
    if (since > 10) {
      step /= 2;
      since = 0;
    }
    const double length = step * std::max(upper - bound, 1e-9) / norm;
    for (std::size_t i = 0; i < n; ++i) weight[i] += length * (degree[i] - (i == 0 ? 1 : 2));
  }
  return best;
}

/// Least arborescence of a dense graph from node 0: for each other node the node it is reached
/// from. `cost[a * n + b]` is that of the edge a to b; infinite where there is none. Source: J.
/// Edmonds, "Optimum branchings", J. Res. Natl. Bur. Stand. 71B, 1967: each node takes its cheapest
/// edge, cycles are contracted, and the smaller graph is solved in the same way.
inline std::vector<std::size_t> least_arborescence(std::size_t n, const std::vector<double>& cost) {
  std::vector<std::size_t> from(n, 0);
  for (std::size_t b = 1; b < n; ++b) {
    for (std::size_t a = 0; a < n; ++a) {
      if (a != b && (from[b] == b || cost[a * n + b] < cost[from[b] * n + b])) from[b] = a;
    }
  }
  // Which cycle a node is on; nodes on none stand for themselves.
  constexpr std::size_t kNone = static_cast<std::size_t>(-1);
  std::vector<std::size_t> group(n, kNone);
  std::vector<std::size_t> seen_by(n, kNone);
  std::size_t groups = 0;
  std::vector<std::vector<std::size_t>> cycles;
  seen_by[0] = n;
  for (std::size_t v = 1; v < n; ++v) {
    std::size_t at = v;
    while (seen_by[at] == kNone) {
      seen_by[at] = v;
      at = from[at];
    }
    if (seen_by[at] != v) continue;
    cycles.emplace_back();
    for (std::size_t on = at; cycles.back().empty() || on != at; on = from[on]) {
      cycles.back().push_back(on);
    }
  }
  if (cycles.empty()) return from;
  group[0] = groups++;
  for (const auto& cycle : cycles) {
    for (const std::size_t v : cycle) group[v] = groups;
    ++groups;
  }
  for (std::size_t v = 1; v < n; ++v) {
    if (group[v] == kNone) group[v] = groups++;
  }
  const double infinity = std::numeric_limits<double>::infinity();
  std::vector<char> on_cycle(n, 0);
  for (const auto& cycle : cycles) {
    for (const std::size_t v : cycle) on_cycle[v] = 1;
  }
  std::vector<double> smaller(groups * groups, infinity);
  std::vector<std::pair<std::size_t, std::size_t>> edge(groups * groups);
  for (std::size_t a = 0; a < n; ++a) {
    for (std::size_t b = 1; b < n; ++b) {
      if (group[a] == group[b]) continue;
      // Entering a cycle at b drops the edge that b had on it.
      const double c = cost[a * n + b] - (on_cycle[b] != 0 ? cost[from[b] * n + b] : 0);
      const std::size_t k = group[a] * groups + group[b];
      if (c < smaller[k]) {
        smaller[k] = c;
        edge[k] = {a, b};
      }
    }
  }
  const auto solved = least_arborescence(groups, smaller);
  for (std::size_t g = 1; g < groups; ++g) {
    const auto [a, b] = edge[solved[g] * groups + g];
    from[b] = a;
  }
  return from;
}

/// As path_bound, tighter where stops have a direction and some must come before others (pairs of
/// indices into `stops`): a path is an arborescence from the start in which no node is left twice;
/// with a price on leaving each node the least arborescence bounds it from below. Edges that no
/// path can have, from a stop to one that must precede it or past one that must lie between, are
/// left out. Source: M. Held, R. Karp as above, for directed costs; M. Fischetti, P. Toth, "An
/// additive bounding procedure for the asymmetric travelling salesman problem", Math. Program. 53,
/// 1992, section 2.
inline double directed_path_bound(Vec2 start, const std::vector<Stop>& stops,
                                  const std::vector<std::pair<std::size_t, std::size_t>>& before,
                                  double upper, int rounds = 600) {
  const std::size_t n = stops.size() + 1;
  const double infinity = std::numeric_limits<double>::infinity();
  std::vector<double> cost(n * n, infinity);
  for (std::size_t a = 0; a < n; ++a) {
    for (std::size_t b = 1; b < n; ++b) {
      if (a != b)
        cost[a * n + b] = distance(a == 0 ? start : stops[a - 1].exit, stops[b - 1].entry);
    }
  }
  for (const auto& [first, second] : before) {
    cost[(second + 1) * n + first + 1] = infinity;  // never backwards
    cost[second + 1] = infinity;                    // nor from the start past what comes before
  }
  std::vector<double> price(n, 0);
  double best = 0;
  double step = 1;
  int since = 0;
  std::vector<double> priced(n * n);
  for (int round = 0; round < rounds; ++round) {
    for (std::size_t a = 0; a < n; ++a) {
      for (std::size_t b = 0; b < n; ++b) priced[a * n + b] = cost[a * n + b] + price[a];
    }
    const auto from = least_arborescence(n, priced);
    std::vector<int> left(n, 0);
    double bound = 0;
    for (std::size_t b = 1; b < n; ++b) {
      bound += priced[from[b] * n + b];
      ++left[from[b]];
    }
    for (const double p : price) bound -= p;
    since = bound > best ? 0 : since + 1;
    best = std::max(best, bound);
    double norm = 0;
    for (std::size_t a = 0; a < n; ++a) {
      if (left[a] > 1 || price[a] > 0) norm += (left[a] - 1) * (left[a] - 1);
    }
    if (norm == 0) break;
    if (since > 15) {
      step /= 1.5;
      since = 0;
    }
    const double length = step * std::max(upper - bound, 1e-9) / norm;
    for (std::size_t a = 0; a < n; ++a) price[a] = std::max(0.0, price[a] + length * (left[a] - 1));
  }
  return best;
}

/// Always the nearest point next.
inline std::vector<std::size_t> nearest_order(Vec2 start, const std::vector<Vec2>& points) {
  std::vector<std::size_t> left(points.size());
  std::iota(left.begin(), left.end(), std::size_t{0});
  std::vector<std::size_t> order;
  while (!left.empty()) {
    const auto next = std::min_element(left.begin(), left.end(), [&](std::size_t a, std::size_t b) {
      return distance(start, points[a]) < distance(start, points[b]);
    });
    start = points[*next];
    order.push_back(*next);
    left.erase(next);
  }
  return order;
}

/// Nearest point next, then stretches reversed as long as that helps.
inline std::vector<std::size_t> two_opt_order(Vec2 start, const std::vector<Vec2>& points) {
  std::vector<std::size_t> order = nearest_order(start, points);
  const std::size_t n = order.size();
  const auto at = [&](std::size_t i) { return points[order[i]]; };
  for (bool better = true; better;) {
    better = false;
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 before = i == 0 ? start : at(i - 1);
      for (std::size_t j = i + 1; j < n; ++j) {
        double gain = distance(before, at(i)) - distance(before, at(j));
        if (j + 1 < n) gain += distance(at(j), at(j + 1)) - distance(at(i), at(j + 1));
        if (gain > 1e-9) {
          std::reverse(order.begin() + static_cast<std::ptrdiff_t>(i),
                       order.begin() + static_cast<std::ptrdiff_t>(j) + 1);
          better = true;
        }
      }
    }
  }
  return order;
}

}  // namespace film::test
