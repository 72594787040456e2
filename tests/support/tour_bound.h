#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <numeric>
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
