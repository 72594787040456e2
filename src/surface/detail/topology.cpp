#include "surface/detail/topology.h"

#include <algorithm>

namespace film::surface::detail {

EdgeGroups group_edges(std::span<const Triangle> triangles, std::size_t vertex_count) {
  const auto side_count = static_cast<SideIndex>(3 * triangles.size());
  const auto ends = [&](SideIndex s) {
    return std::minmax({start_of(triangles, s), end_of(triangles, s)});
  };
  std::vector<std::uint32_t> start(vertex_count + 1, 0);
  for (SideIndex s = 0; s < side_count; ++s) ++start[ends(s).first + 1];
  for (std::size_t v = 0; v < vertex_count; ++v) start[v + 1] += start[v];
  EdgeGroups groups;
  groups.sides.resize(side_count);
  std::vector<std::uint32_t> fill(start.begin(), start.end() - 1);
  for (SideIndex s = 0; s < side_count; ++s) groups.sides[fill[ends(s).first]++] = s;
  groups.group_start.push_back(0);
  for (std::size_t v = 0; v < vertex_count; ++v) {
    const auto first = groups.sides.begin() + start[v];
    const auto last = groups.sides.begin() + start[v + 1];
    std::stable_sort(first, last,
                     [&](SideIndex a, SideIndex b) { return ends(a).second < ends(b).second; });
    for (std::uint32_t i = start[v] + 1; i <= start[v + 1]; ++i) {
      const bool ends_group =
          i == start[v + 1] || ends(groups.sides[i]).second != ends(groups.sides[i - 1]).second;
      if (ends_group) groups.group_start.push_back(i);
    }
  }
  return groups;
}

std::vector<SideIndex> sides_across(std::span<const Triangle> triangles, std::size_t vertex_count) {
  const EdgeGroups groups = group_edges(triangles, vertex_count);
  std::vector<SideIndex> across(3 * triangles.size(), kNoSide);
  for (std::size_t e = 0; e < groups.count(); ++e) {
    const auto group = groups.group(e);
    if (group.size() != 2) continue;
    across[group[0]] = group[1];
    across[group[1]] = group[0];
  }
  return across;
}

std::vector<std::vector<VertexIndex>> loops_of(std::span<const Triangle> triangles,
                                               std::span<const SideIndex> across) {
  std::vector<std::vector<VertexIndex>> loops;
  std::vector<char> used(across.size(), 0);
  for (SideIndex first = 0; first < across.size(); ++first) {
    if (across[first] != kNoSide || used[first]) continue;
    std::vector<VertexIndex> loop;
    for (SideIndex s = first; !used[s];) {
      used[s] = 1;
      loop.push_back(start_of(triangles, s));
      s = next_side(s);
      while (across[s] != kNoSide) s = next_side(across[s]);
    }
    loops.push_back(std::move(loop));
  }
  return loops;
}

VertexTriangles triangles_at_vertices(std::span<const Triangle> triangles,
                                      std::size_t vertex_count) {
  VertexTriangles result;
  result.start.assign(vertex_count + 1, 0);
  for (const Triangle& t : triangles) {
    for (const VertexIndex v : t) ++result.start[v + 1];
  }
  for (std::size_t v = 0; v < vertex_count; ++v) result.start[v + 1] += result.start[v];
  result.triangles.resize(3 * triangles.size());
  std::vector<std::uint32_t> fill(result.start.begin(), result.start.end() - 1);
  for (std::uint32_t t = 0; t < triangles.size(); ++t) {
    for (const VertexIndex v : triangles[t]) result.triangles[fill[v]++] = t;
  }
  return result;
}

}  // namespace film::surface::detail
