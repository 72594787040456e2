#include "surface/detail/overlap.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <unordered_map>

#include "geometry/box.h"
#include "geometry/predicates.h"

namespace film::surface::detail {
namespace {

struct Edge {
  VertexIndex from, to;
};

bool in_conflict(const Edge& e, const Edge& f, std::span<const Vec2> flat) {
  const Meeting meeting = meet(flat[e.from], flat[e.to], flat[f.from], flat[f.to]);
  const bool neighbours = e.to == f.from || f.to == e.from || e.from == f.from || e.to == f.to;
  return neighbours ? meeting == Meeting::overlap : meeting != Meeting::none;
}

}  // namespace

std::vector<std::pair<std::size_t, std::size_t>> boundary_meetings(
    std::span<const std::vector<VertexIndex>> loops, std::span<const Vec2> flat) {
  std::vector<Edge> edges;
  Box all;
  double length_sum = 0;
  for (const auto& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      edges.push_back({loop[i], loop[(i + 1) % loop.size()]});
      all.add(flat[loop[i]]);
      length_sum += distance(flat[edges.back().from], flat[edges.back().to]);
    }
  }
  std::vector<std::pair<std::size_t, std::size_t>> found;
  if (edges.empty()) return found;
  // A grid of cells about twice an edge long, but no more cells a side than edges.
  const double largest = std::max({all.width(), all.height(), 1e-300});
  const double cell = std::max(2 * length_sum / static_cast<double>(edges.size()),
                               largest / std::min<double>(static_cast<double>(edges.size()), 1e6));
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> grid;
  const auto index = [cell](double x, double low) {
    return static_cast<std::uint64_t>(std::max(0.0, std::floor((x - low) / cell)));
  };
  const auto key = [](std::uint64_t x, std::uint64_t y) { return (x << 32) | y; };
  for (std::uint32_t e = 0; e < edges.size(); ++e) {
    Box box;
    box.add(flat[edges[e].from]);
    box.add(flat[edges[e].to]);
    std::vector<std::uint32_t> tested;
    for (std::uint64_t x = index(box.low.x, all.low.x); x <= index(box.high.x, all.low.x); ++x) {
      for (std::uint64_t y = index(box.low.y, all.low.y); y <= index(box.high.y, all.low.y); ++y) {
        auto& bin = grid[key(x, y)];
        tested.insert(tested.end(), bin.begin(), bin.end());
        bin.push_back(e);
      }
    }
    std::sort(tested.begin(), tested.end());
    tested.erase(std::unique(tested.begin(), tested.end()), tested.end());
    for (const std::uint32_t other : tested) {
      if (in_conflict(edges[other], edges[e], flat)) found.emplace_back(other, e);
    }
  }
  return found;
}

void part_lips(std::span<const std::vector<VertexIndex>> loops, std::vector<Vec2>& flat) {
  std::vector<std::pair<VertexIndex, Vec2>> inward;
  std::vector<VertexIndex> order;
  for (const auto& loop : loops) order.insert(order.end(), loop.begin(), loop.end());
  std::vector<char> touches(order.size(), 0);
  const auto meetings = boundary_meetings(loops, flat);
  if (meetings.empty()) return;
  for (const auto& [e, f] : meetings) touches[e] = touches[f] = 1;
  std::size_t base = 0;
  for (const auto& loop : loops) {
    const std::size_t n = loop.size();
    for (std::size_t i = 0; i < n; ++i) {
      if (!touches[base + i] && !touches[base + (i + n - 1) % n]) continue;
      const Vec2 in = flat[loop[i]] - flat[loop[(i + n - 1) % n]];
      const Vec2 out = flat[loop[(i + 1) % n]] - flat[loop[i]];
      const Vec2 along = in / length(in) + out / length(out);
      // At the tip of a cut the edge turns back; the tip stays.
      if (length(along) > 1e-3) inward.emplace_back(loop[i], left_of(along) / length(along));
    }
    base += n;
  }
  std::vector<Vec2> trial;
  for (double gap = kLipGap / 4096; gap <= kLipGap; gap *= 4) {
    trial = flat;
    for (const auto& [v, direction] : inward) trial[v] += gap / 2 * direction;
    if (boundary_meetings(loops, trial).empty()) {
      flat = std::move(trial);
      return;
    }
  }
}

}  // namespace film::surface::detail
