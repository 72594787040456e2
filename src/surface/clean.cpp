#include "surface/clean.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <span>
#include <unordered_map>
#include <utility>

#include "base/text.h"
#include "surface/decimate.h"
#include "surface/denoise.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

using detail::EdgeGroups;
using detail::kNoSide;
using detail::SideIndex;

/// A triangle lower than this share of its longest side, or than the weld distance, counts as one
/// without area.
constexpr double kLeastHeight = 1e-7;
/// Chains of triangles without area are mended one a round.
constexpr int kFlipRounds = 200;
/// Parts smaller than this share of the area are dust of a scan, not panels.
constexpr double kDustShare = 0.005;

std::string place(Vec3 p) { return format("near ({:.1f}, {:.1f}, {:.1f}) mm", p.x, p.y, p.z); }

std::string counted(std::size_t n, std::string_view one, std::string_view many) {
  return format("{} {}", n, n == 1 ? one : many);
}

Failure refuse(std::string what, std::string where, std::string remedy) {
  return fail(ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy));
}

struct Cell {
  std::int64_t x, y, z;
  friend bool operator==(const Cell&, const Cell&) = default;
};
struct CellHash {
  std::size_t operator()(const Cell& c) const {
    std::uint64_t h = static_cast<std::uint64_t>(c.x) * 0x9e3779b97f4a7c15u;
    h = (h ^ (h >> 29)) + static_cast<std::uint64_t>(c.y) * 0xbf58476d1ce4e5b9u;
    h = (h ^ (h >> 31)) + static_cast<std::uint64_t>(c.z) * 0x94d049bb133111ebu;
    return static_cast<std::size_t>(h ^ (h >> 32));
  }
};

/// The surface while it is being mended. Vertices keep the input's numbers until `compact`.
class Mender {
 public:
  Mender(const TriMesh& input, const CleanOptions& options)
      : options_(options),
        points_(input.points),
        triangles_(input.triangles),
        stands_for_(input.points.size()) {
    std::iota(stands_for_.begin(), stands_for_.end(), VertexIndex{0});
    source_ = stands_for_;
  }

  Result<CleanMesh> run(const Context& context) {
    if (auto step = check_input(); !step) return Failure(step.error());
    if (auto step = check_size(); !step) return Failure(step.error());
    drop_repeated_corners();
    drop_duplicates();
    if (count_parts() > 1) weld();
    if (auto step = mend_flat_triangles(context); !step) return Failure(step.error());
    if (triangles_.empty()) {
      return refuse("the mesh has no triangle with an area", {}, "Check the file");
    }
    if (auto step = check_edges(); !step) return Failure(step.error());
    if (auto step = orient(); !step) return Failure(step.error());
    split_pinched_vertices();
    if (auto step = keep_one_part(); !step) return Failure(step.error());
    if (options_.pin_hole_perimeter.value > 0) close_pin_holes();
    if (auto step = check_topology(); !step) return Failure(step.error());
    CleanMesh result = compact();
    if (options_.denoise_within.value > 0) smooth(result);
    if (options_.decimate_within.value > 0) {
      if (auto step = take_out(result, context); !step) return Failure(step.error());
    }
    return result;
  }

 private:
  Result<void> check_input() {
    if (triangles_.empty()) {
      return refuse("the mesh has no triangles", {}, "Export the panel as a triangle surface");
    }
    if (triangles_.size() > options_.greatest_triangles) {
      return fail(ErrorCode::too_large,
                  format("the mesh has {} triangles; the limit is {}", triangles_.size(),
                         options_.greatest_triangles),
                  {}, "Export it coarser: a tenth of a millimetre is enough");
    }
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      for (const VertexIndex v : triangles_[t]) {
        if (v >= points_.size()) {
          return refuse(format("triangle {} names vertex {} of {}", t + 1, std::size_t{v} + 1,
                               points_.size()),
                        {}, "The file is damaged: export it again");
        }
        const Vec3 p = points_[v];
        if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z)) {
          return refuse(format("vertex {} has a coordinate that is not a number", v + 1), {},
                        "Delete it or export the mesh again");
        }
      }
    }
    return {};
  }

  Result<void> check_size() {
    Vec3 low = points_[triangles_[0][0]];
    Vec3 high = low;
    for (const Triangle& t : triangles_) {
      for (const VertexIndex v : t) {
        const Vec3 p = points_[v];
        low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
      }
    }
    const double extent = std::max({high.x - low.x, high.y - low.y, high.z - low.z});
    if (extent >= options_.least_extent.value && extent <= options_.greatest_extent.value) {
      return {};
    }
    std::string guesses;
    const auto fits = [&](double factor) {
      return extent * factor >= options_.least_extent.value &&
             extent * factor <= options_.greatest_extent.value;
    };
    constexpr std::array<std::pair<double, std::string_view>, 6> kMistakes{
        {{1000, "metres read as millimetres"},
         {1e-3, "millimetres read as metres"},
         {25.4, "inches read as millimetres"},
         {1 / 25.4, "millimetres read as inches"},
         {1000 / 25.4, "metres read as inches"},
         {25.4 / 1000, "inches read as metres"}}};
    for (const auto& [factor, words] : kMistakes) {
      if (!fits(factor)) continue;
      guesses += format("{}{} ({:.0f} mm)", guesses.empty() ? "" : ", or ", words, extent * factor);
    }
    return refuse(format("the surface would be {:.4g} mm across, which is no panel", extent), {},
                  guesses.empty() ? std::string("Which unit is the file in?")
                                  : format("Which unit is the file in? Perhaps {}", guesses));
  }

  void drop_repeated_corners() {
    const std::size_t dropped = std::erase_if(
        triangles_, [](const Triangle& t) { return t[0] == t[1] || t[1] == t[2] || t[2] == t[0]; });
    degenerate_ += dropped;
  }

  void drop_duplicates() {
    const auto sorted = [](Triangle t) {
      std::sort(t.begin(), t.end());
      return t;
    };
    std::vector<std::uint32_t> order(triangles_.size());
    std::iota(order.begin(), order.end(), 0u);
    // Grouped by the smallest vertex first, so that sorting stays local and linear.
    std::vector<std::uint32_t> start(points_.size() + 1, 0);
    for (const Triangle& t : triangles_) ++start[sorted(t)[0] + 1];
    for (std::size_t v = 0; v < points_.size(); ++v) start[v + 1] += start[v];
    std::vector<std::uint32_t> fill(start.begin(), start.end() - 1);
    for (std::uint32_t t = 0; t < triangles_.size(); ++t) {
      order[fill[sorted(triangles_[t])[0]]++] = t;
    }
    std::vector<char> drop(triangles_.size(), 0);
    for (std::size_t v = 0; v < points_.size(); ++v) {
      const auto first = order.begin() + start[v];
      const auto last = order.begin() + start[v + 1];
      std::stable_sort(first, last, [&](std::uint32_t a, std::uint32_t b) {
        return sorted(triangles_[a]) < sorted(triangles_[b]);
      });
      for (auto it = first; it != last && it + 1 != last; ++it) {
        if (sorted(triangles_[*it]) == sorted(triangles_[*(it + 1)])) drop[*(it + 1)] = 1;
      }
    }
    std::size_t kept = 0;
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      if (!drop[t]) triangles_[kept++] = triangles_[t];
    }
    duplicates_ += triangles_.size() - kept;
    triangles_.resize(kept);
  }

  /// Part number of each triangle, parts joined over edges. Returns how many parts.
  std::size_t number_parts(std::vector<std::uint32_t>& part) const {
    std::vector<std::uint32_t> parent(triangles_.size());
    std::iota(parent.begin(), parent.end(), 0u);
    const auto root = [&parent](std::uint32_t t) {
      while (parent[t] != t) t = parent[t] = parent[parent[t]];
      return t;
    };
    const EdgeGroups edges = detail::group_edges(triangles_, points_.size());
    for (std::size_t e = 0; e < edges.count(); ++e) {
      const auto group = edges.group(e);
      for (std::size_t i = 1; i < group.size(); ++i) {
        const std::uint32_t a = root(group[0] / 3);
        const std::uint32_t b = root(group[i] / 3);
        parent[std::max(a, b)] = std::min(a, b);
      }
    }
    std::size_t count = 0;
    part.assign(triangles_.size(), 0);
    for (std::uint32_t t = 0; t < triangles_.size(); ++t) {
      const std::uint32_t r = root(t);
      part[t] = r == t ? static_cast<std::uint32_t>(count++) : part[r];
    }
    return count;
  }

  std::size_t count_parts() const {
    std::vector<std::uint32_t> part;
    return number_parts(part);
  }

  /// Joins vertices at the same place. Only called when the surface comes apart otherwise: in a
  /// surface of one part, vertices at the same place are the two lips of a cut.
  void weld() {
    const double reach = std::max(options_.weld.value, 0.0);
    const double cell = std::max(64 * reach, 1e-6);
    std::unordered_map<Cell, VertexIndex, CellHash> head;
    std::vector<VertexIndex> next(points_.size(), CleanMesh::kDropped);
    head.reserve(points_.size());
    std::vector<char> used(points_.size(), 0);
    for (const Triangle& t : triangles_) {
      for (const VertexIndex v : t) used[v] = 1;
    }
    const auto index = [cell](double x) { return static_cast<std::int64_t>(std::floor(x / cell)); };
    std::size_t joined = 0;
    for (VertexIndex v = 0; v < points_.size(); ++v) {
      if (!used[v]) continue;
      const Vec3 p = points_[v];
      VertexIndex twin = CleanMesh::kDropped;
      for (std::int64_t x = index(p.x - reach); x <= index(p.x + reach); ++x) {
        for (std::int64_t y = index(p.y - reach); y <= index(p.y + reach); ++y) {
          for (std::int64_t z = index(p.z - reach); z <= index(p.z + reach); ++z) {
            const auto found = head.find({x, y, z});
            if (found == head.end()) continue;
            for (VertexIndex w = found->second; w != CleanMesh::kDropped; w = next[w]) {
              if (distance(points_[w], p) <= reach) twin = std::min(twin, w);
            }
          }
        }
      }
      if (twin != CleanMesh::kDropped) {
        stands_for_[v] = twin;
        ++joined;
        continue;
      }
      auto [slot, fresh] = head.try_emplace({index(p.x), index(p.y), index(p.z)}, v);
      if (!fresh) {
        next[v] = slot->second;
        slot->second = v;
      }
    }
    if (joined == 0) return;
    for (Triangle& t : triangles_) {
      for (VertexIndex& v : t) v = stands_for_[v];
    }
    mends_.push_back(format("joined {} at the same place",
                            counted(joined, "vertex with another", "vertices with others")));
    drop_repeated_corners();
    drop_duplicates();
  }

  [[nodiscard]] double side_length(SideIndex s) const {
    return distance(points_[detail::start_of(triangles_, s)],
                    points_[detail::end_of(triangles_, s)]);
  }

  /// Vertices joined by an edge no longer than the weld distance become one.
  void join_short_edges() {
    const double reach = std::max(options_.weld.value, 0.0);
    std::vector<VertexIndex> one(points_.size());
    std::iota(one.begin(), one.end(), VertexIndex{0});
    const auto root = [&one](VertexIndex v) {
      while (one[v] != v) v = one[v];
      return v;
    };
    bool any = false;
    for (SideIndex s = 0; s < 3 * triangles_.size(); ++s) {
      if (side_length(s) > reach) continue;
      const VertexIndex a = root(detail::start_of(triangles_, s));
      const VertexIndex b = root(detail::end_of(triangles_, s));
      if (a == b || distance(points_[a], points_[b]) > reach) continue;  // no long chains
      one[std::max(a, b)] = std::min(a, b);
      any = true;
    }
    if (!any) return;
    for (Triangle& t : triangles_) {
      for (VertexIndex& v : t) v = root(v);
    }
    for (VertexIndex& v : stands_for_) v = root(v);
    drop_repeated_corners();
    drop_duplicates();
  }

  /// The longest side of each triangle without area.
  [[nodiscard]] std::vector<SideIndex> flat_triangles() const {
    std::vector<SideIndex> longest_of_flat;
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      const auto s = static_cast<SideIndex>(3 * t);
      SideIndex longest = s;
      for (const SideIndex other : {s + 1, s + 2}) {
        if (side_length(other) > side_length(longest)) longest = other;
      }
      const Vec3 vector = cross(points_[triangles_[t][1]] - points_[triangles_[t][0]],
                                points_[triangles_[t][2]] - points_[triangles_[t][0]]);
      const double base = side_length(longest);
      const double least = std::max(kLeastHeight * base, options_.weld.value);
      if (!(length(vector) > least * base)) longest_of_flat.push_back(longest);
    }
    return longest_of_flat;
  }

  /// Flips the longest side of triangles without area, so that no crack opens, until none is left.
  Result<void> mend_flat_triangles(const Context& context) {
    join_short_edges();
    for (int round = 0;; ++round) {
      if (context.stopped()) return fail(ErrorCode::cancelled, "stopped while cleaning the mesh");
      const std::vector<SideIndex> longest_of_flat = flat_triangles();
      if (round == 0) degenerate_ += longest_of_flat.size();
      if (longest_of_flat.empty()) return {};
      if (round == kFlipRounds || !flip(longest_of_flat)) {
        return refuse(format("{} no area and cannot be mended",
                             counted(longest_of_flat.size(), "triangle has", "triangles have")),
                      place(points_[detail::start_of(triangles_, longest_of_flat[0])]),
                      "Delete them and close the gap, or export the mesh again");
      }
      drop_duplicates();
    }
  }

  /// One round of flips; false when none was possible. A flat triangle that faces another one waits
  /// until that is gone, unless both face each other.
  bool flip(const std::vector<SideIndex>& longest_of_flat) {
    const std::vector<SideIndex> across = detail::sides_across(triangles_, points_.size());
    const detail::VertexTriangles stars = detail::triangles_at_vertices(triangles_, points_.size());
    std::vector<SideIndex> faces(triangles_.size(), kNoSide);  // of a flat one, its longest side
    for (const SideIndex s : longest_of_flat) faces[s / 3] = s;
    const auto joined = [&](VertexIndex c, VertexIndex d) {
      const auto star = stars.at(c);
      return std::any_of(star.begin(), star.end(), [&](std::uint32_t t) {
        const Triangle& corners = triangles_[t];
        return corners[0] == d || corners[1] == d || corners[2] == d;
      });
    };
    std::vector<char> touched(triangles_.size(), 0);
    std::vector<char> drop(triangles_.size(), 0);
    bool any = false;
    for (const SideIndex s : longest_of_flat) {
      if (touched[s / 3]) continue;
      const SideIndex o = across[s];
      if (o == kNoSide) {
        touched[s / 3] = drop[s / 3] = 1;  // on the boundary: nothing is lost
        any = true;
        continue;
      }
      if (touched[o / 3] || (faces[o / 3] != kNoSide && faces[o / 3] != o)) continue;
      const VertexIndex a = detail::start_of(triangles_, s);
      const VertexIndex b = detail::end_of(triangles_, s);
      const VertexIndex c = detail::end_of(triangles_, detail::next_side(s));
      const VertexIndex d = detail::end_of(triangles_, detail::next_side(o));
      if (c == d) {
        touched[s / 3] = touched[o / 3] = drop[s / 3] = drop[o / 3] = 1;
        any = true;
        continue;
      }
      if (joined(c, d)) continue;
      touched[s / 3] = touched[o / 3] = 1;
      any = true;
      // Turned the way of the other triangle: one without area has no side of its own.
      const bool same_way = detail::start_of(triangles_, o) == b;
      triangles_[s / 3] = same_way ? Triangle{a, d, c} : Triangle{a, c, d};
      triangles_[o / 3] = same_way ? Triangle{d, b, c} : Triangle{c, b, d};
    }
    std::size_t kept = 0;
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      if (!drop[t]) triangles_[kept++] = triangles_[t];
    }
    triangles_.resize(kept);
    return any;
  }

  Result<void> check_edges() {
    const EdgeGroups edges = detail::group_edges(triangles_, points_.size());
    std::size_t crowded = 0;
    Vec3 where;
    for (std::size_t e = 0; e < edges.count(); ++e) {
      const auto group = edges.group(e);
      if (group.size() <= 2) continue;
      if (crowded++ > 0) continue;
      where = 0.5 * (points_[detail::start_of(triangles_, group[0])] +
                     points_[detail::end_of(triangles_, group[0])]);
    }
    if (crowded == 0) return {};
    return refuse(format("the surface branches: {} more than two triangles",
                         crowded == 1 ? "one edge has" : format("{} edges have", crowded)),
                  place(where), "Delete the flap or inner wall that meets the panel there");
  }

  /// Turns triangles so that neighbours agree, each part the way most of its area had it.
  Result<void> orient() {
    const std::vector<SideIndex> across = detail::sides_across(triangles_, points_.size());
    std::vector<signed char> way(triangles_.size(), 0);
    std::vector<std::uint32_t> queue;
    std::size_t turned = 0;
    for (std::uint32_t seed = 0; seed < triangles_.size(); ++seed) {
      if (way[seed] != 0) continue;
      way[seed] = 1;
      queue.assign(1, seed);
      double balance = 0;
      for (std::size_t head = 0; head < queue.size(); ++head) {
        const std::uint32_t t = queue[head];
        balance += way[t] * triangle_area(t);
        for (SideIndex s = 3 * t; s < 3 * t + 3; ++s) {
          const SideIndex o = across[s];
          if (o == kNoSide) continue;
          const bool agrees = detail::start_of(triangles_, s) == detail::end_of(triangles_, o);
          const auto wanted = static_cast<signed char>(agrees ? way[t] : -way[t]);
          if (way[o / 3] == 0) {
            way[o / 3] = wanted;
            queue.push_back(o / 3);
          } else if (way[o / 3] != wanted) {
            return refuse("the surface has no outside: it is twisted like a Moebius band",
                          place(points_[detail::start_of(triangles_, s)]),
                          "Cut it there, or delete the triangles that join the two sides");
          }
        }
      }
      const signed char wrong = balance < 0 ? 1 : -1;
      for (const std::uint32_t t : queue) {
        if (way[t] != wrong) continue;
        std::swap(triangles_[t][1], triangles_[t][2]);
        ++turned;
      }
    }
    if (turned > 0) {
      mends_.push_back(format("turned {} to face the way of the others",
                              counted(turned, "triangle", "triangles")));
    }
    return {};
  }

  [[nodiscard]] double triangle_area(std::size_t t) const {
    const Triangle& c = triangles_[t];
    return length(cross(points_[c[1]] - points_[c[0]], points_[c[2]] - points_[c[0]])) / 2;
  }

  /// Gives each fan of triangles at a vertex a vertex of its own.
  void split_pinched_vertices() {
    const std::vector<SideIndex> across = detail::sides_across(triangles_, points_.size());
    std::vector<char> visited(3 * triangles_.size(), 0);  // by the side that starts at the vertex
    std::vector<char> has_fan(points_.size(), 0);
    std::size_t split = 0;
    for (SideIndex first = 0; first < visited.size(); ++first) {
      if (visited[first]) continue;
      const VertexIndex v = detail::start_of(triangles_, first);
      std::vector<SideIndex> fan;
      for (SideIndex s = first; s != kNoSide && !visited[s]; s = across[detail::previous_side(s)]) {
        fan.push_back(s);
        visited[s] = 1;
      }
      const SideIndex back = across[first];
      for (SideIndex s = back == kNoSide ? kNoSide : detail::next_side(back);
           s != kNoSide && !visited[s];) {
        fan.push_back(s);
        visited[s] = 1;
        const SideIndex o = across[s];
        s = o == kNoSide ? kNoSide : detail::next_side(o);
      }
      if (!has_fan[v]) {
        has_fan[v] = 1;
        continue;
      }
      const auto copy = static_cast<VertexIndex>(points_.size());
      points_.push_back(points_[v]);
      source_.push_back(source_[v]);
      for (const SideIndex s : fan) triangles_[s / 3][s % 3] = copy;
      ++split;
    }
    if (split > 0) {
      mends_.push_back(format("parted the surface at {} where it only touched itself",
                              counted(split, "vertex", "vertices")));
    }
  }

  Result<void> keep_one_part() {
    std::vector<std::uint32_t> part;
    const std::size_t count = number_parts(part);
    if (count == 1) return {};
    std::vector<double> areas(count, 0);
    for (std::size_t t = 0; t < triangles_.size(); ++t) areas[part[t]] += triangle_area(t);
    const double whole = std::accumulate(areas.begin(), areas.end(), 0.0);
    const auto largest =
        static_cast<std::size_t>(std::max_element(areas.begin(), areas.end()) - areas.begin());
    if (whole - areas[largest] > kDustShare * whole) {
      areas[largest] = -areas[largest];
      const auto second =
          static_cast<std::size_t>(std::max_element(areas.begin(), areas.end()) - areas.begin());
      std::size_t t = 0;
      while (part[t] != second) ++t;
      return refuse(format("the mesh has {} parts that do not hang together", count),
                    place(points_[triangles_[t][0]]),
                    "Flatten each panel by itself, or join the gap between them");
    }
    std::size_t kept = 0;
    for (std::size_t i = 0; i < triangles_.size(); ++i) {
      if (part[i] == largest) triangles_[kept++] = triangles_[i];
    }
    mends_.push_back(format("dropped {}, {:.2f} % of the area",
                            counted(count - 1, "loose speck", "loose specks"),
                            100 * (whole - areas[largest]) / whole));
    triangles_.resize(kept);
    return {};
  }

  [[nodiscard]] double loop_length(std::span<const VertexIndex> loop) const {
    double sum = 0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      sum += distance(points_[loop[i]], points_[loop[(i + 1) % loop.size()]]);
    }
    return sum;
  }

  void close_pin_holes() {
    const auto loops =
        detail::loops_of(triangles_, detail::sides_across(triangles_, points_.size()));
    std::size_t longest = 0;
    for (std::size_t i = 1; i < loops.size(); ++i) {
      if (loop_length(loops[i]) > loop_length(loops[longest])) longest = i;
    }
    std::size_t closed = 0;
    for (std::size_t i = 0; i < loops.size(); ++i) {
      if (i == longest || loop_length(loops[i]) > options_.pin_hole_perimeter.value) continue;
      Vec3 centre;
      for (const VertexIndex v : loops[i]) centre += points_[v];
      const auto middle = static_cast<VertexIndex>(points_.size());
      points_.push_back(centre / static_cast<double>(loops[i].size()));
      source_.push_back(CleanMesh::kDropped);
      for (std::size_t k = 0; k < loops[i].size(); ++k) {
        triangles_.push_back({loops[i][(k + 1) % loops[i].size()], loops[i][k], middle});
      }
      ++closed;
    }
    if (closed > 0) mends_.push_back(format("closed {}", counted(closed, "pin hole", "pin holes")));
  }

  Result<void> check_topology() {
    const EdgeGroups edges = detail::group_edges(triangles_, points_.size());
    const auto loops =
        detail::loops_of(triangles_, detail::sides_across(triangles_, points_.size()));
    std::vector<char> used(points_.size(), 0);
    for (const Triangle& t : triangles_) {
      for (const VertexIndex v : t) used[v] = 1;
    }
    const auto vertices = std::count(used.begin(), used.end(), char{1});
    const auto euler = vertices - static_cast<std::ptrdiff_t>(edges.count()) +
                       static_cast<std::ptrdiff_t>(triangles_.size());
    if (loops.empty()) {
      return refuse("the surface is closed all round and cannot be laid flat", {},
                    "Cut the panel out of it, or cut it open along the edge where the film ends");
    }
    const std::ptrdiff_t handles = (2 - static_cast<std::ptrdiff_t>(loops.size()) - euler) / 2;
    if (handles > 0) {
      return refuse(format("the surface has {} and cannot be laid flat",
                           counted(static_cast<std::size_t>(handles), "handle", "handles")),
                    place(points_[loops[0][0]]),
                    "Cut each handle (a bridge or tunnel of the surface) through once");
    }
    return {};
  }

  CleanMesh compact() {
    CleanMesh result;
    std::vector<VertexIndex> number(points_.size(), CleanMesh::kDropped);
    for (const Triangle& t : triangles_) {
      for (const VertexIndex v : t) number[v] = 0;
    }
    for (VertexIndex v = 0; v < points_.size(); ++v) {
      if (number[v] == CleanMesh::kDropped) continue;
      number[v] = static_cast<VertexIndex>(result.mesh.points.size());
      result.mesh.points.push_back(points_[v]);
      result.source_vertex.push_back(source_[v]);
    }
    result.mesh.triangles = std::move(triangles_);
    for (Triangle& t : result.mesh.triangles) {
      for (VertexIndex& v : t) v = number[v];
    }
    result.vertex_of_source.resize(stands_for_.size());
    for (std::size_t v = 0; v < stands_for_.size(); ++v) {
      result.vertex_of_source[v] = number[stands_for_[v]];
    }
    if (degenerate_ > 0) {
      mends_.push_back(
          format("removed {} without area", counted(degenerate_, "triangle", "triangles")));
    }
    if (duplicates_ > 0) {
      mends_.push_back(
          format("dropped {}", counted(duplicates_, "duplicate triangle", "duplicate triangles")));
    }
    const auto unused = static_cast<std::size_t>(std::count(
        result.vertex_of_source.begin(), result.vertex_of_source.end(), CleanMesh::kDropped));
    if (unused > 0) {
      mends_.push_back(format("left out {}", counted(unused, "unused vertex", "unused vertices")));
    }
    result.mends = std::move(mends_);
    return result;
  }

  void smooth(CleanMesh& result) const {
    TriMesh smooth = denoise(result.mesh, options_.denoise_within);
    double most = 0;
    for (std::size_t v = 0; v < smooth.points.size(); ++v) {
      most = std::max(most, distance(smooth.points[v], result.mesh.points[v]));
    }
    if (most == 0) return;
    result.mesh = std::move(smooth);
    result.error.value += most;
    result.mends.push_back(format("smoothed: no vertex moved by more than {:.3f} mm", most));
  }

  Result<void> take_out(CleanMesh& result, const Context& context) const {
    auto less = decimate(result.mesh, options_.decimate_within, context);
    if (!less) return Failure(less.error());
    const std::size_t before = result.mesh.triangles.size();
    if (less->mesh.triangles.size() == before) return {};
    result.error.value += less->error.value;
    result.mends.push_back(format("took {} of {} triangles out: the surface lies within {:.3f} mm",
                                  before - less->mesh.triangles.size(), before, less->error.value));
    std::vector<VertexIndex> number(result.mesh.points.size(), CleanMesh::kDropped);
    std::vector<VertexIndex> source;
    for (VertexIndex v = 0; v < less->source_vertex.size(); ++v) {
      number[less->source_vertex[v]] = v;
      source.push_back(result.source_vertex[less->source_vertex[v]]);
    }
    for (VertexIndex& v : result.vertex_of_source) {
      if (v != CleanMesh::kDropped) v = number[v];
    }
    result.source_vertex = std::move(source);
    result.mesh = std::move(less->mesh);
    return {};
  }

  const CleanOptions& options_;
  std::vector<Vec3> points_;
  std::vector<Triangle> triangles_;
  std::vector<VertexIndex> stands_for_;  // for each input vertex: the one it was joined with
  std::vector<VertexIndex> source_;      // for each vertex: the input vertex it was
  std::vector<std::string> mends_;
  std::size_t degenerate_ = 0;
  std::size_t duplicates_ = 0;
};

}  // namespace

Result<CleanMesh> clean(const TriMesh& input, const CleanOptions& options, const Context& context) {
  return Mender(input, options).run(context);
}

}  // namespace film::surface
