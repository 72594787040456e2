#include "surface/geodesic.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <queue>
#include <utility>

#include "base/assert.h"
#include "base/text.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

constexpr double kPi = std::numbers::pi;

/// An edge that the way crosses, `left` and `right` as seen along the way.
struct Gate {
  VertexIndex left = 0, right = 0;

  [[nodiscard]] bool touches(VertexIndex v) const { return left == v || right == v; }
  [[nodiscard]] bool same_as(const Gate& o) const { return touches(o.left) && touches(o.right); }
};
using Strip = std::vector<Gate>;

/// The way from vertex to vertex; strips[i] leads from stops[i] to stops[i + 1].
struct Way {
  std::vector<VertexIndex> stops;
  std::vector<Strip> strips;
};

/// The triangles round a vertex, counter-clockwise seen from outside.
struct Fan {
  std::vector<VertexIndex> spokes;
  std::vector<double> angle;  ///< of each spoke, from the first
  double whole = 0;           ///< of all triangles
  bool closed = false;        ///< the last triangle ends at the first spoke
};

class Straightener {
 public:
  explicit Straightener(const TriMesh& mesh)
      : mesh_(mesh),
        triangles_at_(detail::triangles_at_vertices(mesh.triangles, mesh.points.size())) {}

  [[nodiscard]] std::optional<std::vector<VertexIndex>> along_edges(VertexIndex from,
                                                                    VertexIndex to) const;
  void straighten(Way& way) const;
  /// Where a straight line between two stops crosses the gates between them, as shares from left
  /// to right.
  [[nodiscard]] std::vector<double> crossings(VertexIndex from, const Strip& strip,
                                              VertexIndex to) const;

 private:
  struct Unfolded {
    Vec2 from, to;
    std::vector<Vec2> left, right;
  };

  [[nodiscard]] double side(VertexIndex a, VertexIndex b) const {
    return distance(mesh_.points[a], mesh_.points[b]);
  }
  [[nodiscard]] double corner(VertexIndex at, VertexIndex a, VertexIndex b) const {
    const Vec3 u = mesh_.points[a] - mesh_.points[at];
    const Vec3 v = mesh_.points[b] - mesh_.points[at];
    return std::atan2(length(cross(u, v)), dot(u, v));
  }
  [[nodiscard]] std::optional<Fan> fan_at(VertexIndex v) const;
  [[nodiscard]] Unfolded unfold(VertexIndex from, const Strip& strip, VertexIndex to) const;
  [[nodiscard]] Vec2 apex(Vec2 left, Vec2 right, VertexIndex l, VertexIndex r,
                          VertexIndex beyond) const;
  [[nodiscard]] Way pulled_tight(VertexIndex from, Strip strip, VertexIndex to) const;
  [[nodiscard]] std::optional<Strip> round_stop(const Way& way, std::size_t stop) const;
  [[nodiscard]] double direction(const Fan& fan, VertexIndex at, const Strip& strip, bool arriving,
                                 VertexIndex other) const;

  const TriMesh& mesh_;
  const detail::VertexTriangles triangles_at_;
};

std::optional<std::vector<VertexIndex>> Straightener::along_edges(VertexIndex from,
                                                                  VertexIndex to) const {
  constexpr VertexIndex kNone = std::numeric_limits<VertexIndex>::max();
  std::vector<double> best(mesh_.points.size(), std::numeric_limits<double>::infinity());
  std::vector<VertexIndex> before(mesh_.points.size(), kNone);
  using Item = std::pair<double, VertexIndex>;
  std::priority_queue<Item, std::vector<Item>, std::greater<>> open;
  best[from] = 0;
  open.push({0, from});
  while (!open.empty()) {
    const auto [way, v] = open.top();
    open.pop();
    if (way > best[v]) continue;
    if (v == to) break;
    for (const std::uint32_t t : triangles_at_.at(v)) {
      for (const VertexIndex w : mesh_.triangles[t]) {
        const double longer = way + side(v, w);
        if (w == v || longer >= best[w]) continue;
        best[w] = longer;
        before[w] = v;
        open.push({longer, w});
      }
    }
  }
  if (before[to] == kNone) return std::nullopt;
  std::vector<VertexIndex> stops{to};
  while (stops.back() != from) stops.push_back(before[stops.back()]);
  std::reverse(stops.begin(), stops.end());
  return stops;
}

std::optional<Fan> Straightener::fan_at(VertexIndex v) const {
  std::vector<std::pair<VertexIndex, VertexIndex>> steps;  // from spoke to spoke
  for (const std::uint32_t t : triangles_at_.at(v)) {
    const Triangle& corners = mesh_.triangles[t];
    const std::size_t k = corners[0] == v ? 0 : corners[1] == v ? 1 : 2;
    steps.emplace_back(corners[(k + 1) % 3], corners[(k + 2) % 3]);
  }
  if (steps.empty()) return std::nullopt;
  // An open fan starts at the spoke to which no triangle leads.
  VertexIndex at = steps.front().first;
  for (const auto& step : steps) {
    const bool led_to = std::any_of(steps.begin(), steps.end(),
                                    [&](const auto& other) { return other.second == step.first; });
    if (!led_to) at = step.first;
  }
  Fan fan;
  const VertexIndex first = at;
  for (std::size_t used = 0; used < steps.size(); ++used) {
    const auto next = std::find_if(steps.begin(), steps.end(),
                                   [at](const auto& step) { return step.first == at; });
    if (next == steps.end() || (used != 0 && at == first)) return std::nullopt;
    fan.spokes.push_back(at);
    fan.angle.push_back(fan.whole);
    fan.whole += corner(v, at, next->second);
    at = next->second;
  }
  fan.closed = at == first;
  if (!fan.closed) {
    fan.spokes.push_back(at);
    fan.angle.push_back(fan.whole);
  }
  return fan;
}

Vec2 Straightener::apex(Vec2 left, Vec2 right, VertexIndex l, VertexIndex r,
                        VertexIndex beyond) const {
  const double base = distance(left, right);
  const double from_left = side(l, beyond);
  const double from_right = side(r, beyond);
  const double along = (base * base + from_left * from_left - from_right * from_right) / (2 * base);
  const double out = std::sqrt(std::max(0.0, from_left * from_left - along * along));
  const Vec2 unit = (right - left) / base;
  return left + along * unit + out * left_of(unit);  // ahead is to the left of left -> right
}

Straightener::Unfolded Straightener::unfold(VertexIndex from, const Strip& strip,
                                            VertexIndex to) const {
  Unfolded flat;
  if (strip.empty()) {
    flat.to = {0, side(from, to)};
    return flat;
  }
  Vec2 left{0, 0};
  Vec2 right{side(strip[0].left, strip[0].right), 0};
  const Vec2 behind = apex(left, right, strip[0].left, strip[0].right, from);
  flat.from = {behind.x, -behind.y};
  for (std::size_t k = 0; k < strip.size(); ++k) {
    flat.left.push_back(left);
    flat.right.push_back(right);
    const bool last = k + 1 == strip.size();
    const bool turns_left = !last && strip[k + 1].left == strip[k].left;
    const VertexIndex beyond = last ? to : turns_left ? strip[k + 1].right : strip[k + 1].left;
    const Vec2 ahead = apex(left, right, strip[k].left, strip[k].right, beyond);
    (last ? flat.to : turns_left ? right : left) = ahead;
  }
  return flat;
}

std::vector<double> Straightener::crossings(VertexIndex from, const Strip& strip,
                                            VertexIndex to) const {
  const Unfolded flat = unfold(from, strip, to);
  std::vector<double> shares;
  for (std::size_t k = 0; k < strip.size(); ++k) {
    const Vec2 way = flat.to - flat.from;
    const Vec2 gate = flat.right[k] - flat.left[k];
    const double area = cross(way, gate);
    const double share = area == 0 ? 0.5 : cross(flat.from - flat.left[k], way) / cross(gate, way);
    shares.push_back(std::clamp(share, 0.0, 1.0));
  }
  return shares;
}

/// Drops gates at the ends that touch the stops, and steps forth and back.
void trim(VertexIndex from, Strip& strip, VertexIndex to) {
  Strip kept;
  for (const Gate& gate : strip) {
    if (!kept.empty() && kept.back().same_as(gate)) {
      kept.pop_back();
    } else {
      kept.push_back(gate);
    }
  }
  const auto clear = [](VertexIndex v) {
    return [v](const Gate& gate) { return !gate.touches(v); };
  };
  kept.erase(kept.begin(), std::find_if(kept.begin(), kept.end(), clear(from)));
  kept.erase(std::find_if(kept.rbegin(), kept.rend(), clear(to)).base(), kept.end());
  strip = std::move(kept);
}

/// The shortest way inside a strip: the funnel from the last bend narrows gate by gate.
Way Straightener::pulled_tight(VertexIndex from, Strip strip, VertexIndex to) const {
  trim(from, strip, to);
  const Unfolded flat = unfold(from, strip, to);
  Way way;
  way.stops = {from};
  Vec2 tip = flat.from;
  std::size_t start = 0;  // first gate past the last bend
  const std::size_t n = strip.size();
  while (true) {
    Vec2 left{}, right{};
    std::size_t left_gate = start, right_gate = start;
    bool bent = false;
    for (std::size_t k = start; k <= n; ++k) {
      const Vec2 l = k < n ? flat.left[k] : flat.to;
      const Vec2 r = k < n ? flat.right[k] : flat.to;
      if (k == start) {
        left = l;
        right = r;
        continue;
      }
      // Right of the left side, left of the right side; behind them the string bends.
      if (cross(left - tip, r - tip) > 0) {
        way.stops.push_back(strip[left_gate].left);
        tip = left;
        start = left_gate + 1;
        bent = true;
        break;
      }
      if (cross(right - tip, l - tip) < 0) {
        way.stops.push_back(strip[right_gate].right);
        tip = right;
        start = right_gate + 1;
        bent = true;
        break;
      }
      if (cross(left - tip, l - tip) <= 0) {
        left = l;
        left_gate = k;
      }
      if (cross(right - tip, r - tip) >= 0) {
        right = r;
        right_gate = k;
      }
    }
    if (!bent) break;
    while (start < n && strip[start].touches(way.stops.back())) ++start;
  }
  way.stops.push_back(to);
  // Share the gates out: those at a bend are passed at the vertex itself.
  std::size_t gate = 0;
  for (std::size_t s = 0; s + 1 < way.stops.size(); ++s) {
    Strip part;
    while (gate < n && strip[gate].touches(way.stops[s])) ++gate;
    while (gate < n && !strip[gate].touches(way.stops[s + 1])) part.push_back(strip[gate++]);
    way.strips.push_back(std::move(part));
  }
  return way;
}

/// Angle in the fan at which the way arrives from or leaves to the neighbouring stop.
double Straightener::direction(const Fan& fan, VertexIndex at, const Strip& strip, bool arriving,
                               VertexIndex other) const {
  const auto spoke = [&fan](VertexIndex v) {
    return static_cast<std::size_t>(std::find(fan.spokes.begin(), fan.spokes.end(), v) -
                                    fan.spokes.begin());
  };
  if (strip.empty()) {
    const std::size_t s = spoke(other);
    return s < fan.angle.size() ? fan.angle[s] : std::nan("");
  }
  const Gate gate = arriving ? strip.back() : strip.front();
  const std::vector<double> shares =
      arriving ? crossings(other, strip, at) : crossings(at, strip, other);
  const double share = arriving ? shares.back() : shares.front();
  const Vec3 crossing =
      mesh_.points[gate.left] + share * (mesh_.points[gate.right] - mesh_.points[gate.left]);
  // Looking out from the vertex, the fan runs counter-clockwise: its earlier spoke is on the right.
  const VertexIndex early = arriving ? gate.left : gate.right;
  const std::size_t s = spoke(early);
  if (s >= fan.angle.size()) return std::nan("");
  const Vec3 u = mesh_.points[early] - mesh_.points[at];
  const Vec3 v = crossing - mesh_.points[at];
  return fan.angle[s] + std::atan2(length(cross(u, v)), dot(u, v));
}

/// The strip from the stop before to the stop after that leads round this one on its tighter side,
/// or nothing if neither side is less than half a turn.
std::optional<Strip> Straightener::round_stop(const Way& way, std::size_t stop) const {
  constexpr double kStraight = 1e-9;
  const VertexIndex v = way.stops[stop];
  const auto fan = fan_at(v);
  if (!fan) return std::nullopt;
  const double in = direction(*fan, v, way.strips[stop - 1], true, way.stops[stop - 1]);
  const double out = direction(*fan, v, way.strips[stop], false, way.stops[stop + 1]);
  if (std::isnan(in) || std::isnan(out)) return std::nullopt;
  // On the left of the way lie the directions from `out` counter-clockwise to `in`.
  const auto between = [&fan](double from, double to) {
    return to >= from ? to - from : to - from + fan->whole;
  };
  const double none = std::numeric_limits<double>::infinity();
  const double on_left = fan->closed || in >= out ? between(out, in) : none;
  const double on_right = fan->closed || out >= in ? between(in, out) : none;
  if (std::min(on_left, on_right) >= kPi - kStraight) return std::nullopt;
  const bool left = on_left < on_right;
  const double from = left ? out : in;
  const double wide = left ? on_left : on_right;
  std::vector<std::pair<double, VertexIndex>> crossed;
  for (std::size_t s = 0; s < fan->spokes.size(); ++s) {
    double at = fan->angle[s] - from;
    if (fan->closed && at < 0) at += fan->whole;
    if (at > kStraight && at < wide - kStraight) crossed.emplace_back(at, fan->spokes[s]);
  }
  std::sort(crossed.begin(), crossed.end());
  if (left) std::reverse(crossed.begin(), crossed.end());  // from `in` to `out`
  Strip strip = way.strips[stop - 1];
  for (const auto& [at, spoke] : crossed) {
    strip.push_back(left ? Gate{spoke, v} : Gate{v, spoke});
  }
  strip.insert(strip.end(), way.strips[stop].begin(), way.strips[stop].end());
  return strip;
}

void Straightener::straighten(Way& way) const {
  // Each round shortens the way; the count only guards against rounding.
  std::size_t left = 1000 + 100 * way.stops.size();
  for (std::size_t stop = 1; stop + 1 < way.stops.size() && left > 0; --left) {
    auto strip = round_stop(way, stop);
    if (!strip) {
      ++stop;
      continue;
    }
    Way part = pulled_tight(way.stops[stop - 1], std::move(*strip), way.stops[stop + 1]);
    const auto at = static_cast<std::ptrdiff_t>(stop);
    way.stops.erase(way.stops.begin() + at - 1, way.stops.begin() + at + 2);
    way.stops.insert(way.stops.begin() + at - 1, part.stops.begin(), part.stops.end());
    way.strips.erase(way.strips.begin() + at - 1, way.strips.begin() + at + 1);
    way.strips.insert(way.strips.begin() + at - 1, std::make_move_iterator(part.strips.begin()),
                      std::make_move_iterator(part.strips.end()));
    stop = std::max<std::size_t>(1, stop - 1);
  }
}

}  // namespace

Result<std::vector<EdgePoint>> geodesic(const TriMesh& mesh, VertexIndex from, VertexIndex to) {
  if (from >= mesh.points.size() || to >= mesh.points.size()) {
    return fail(ErrorCode::invalid_input, "there is no such vertex",
                format("vertices {} and {}", from, to));
  }
  if (from == to) return std::vector<EdgePoint>{{from, from, 0}};
  const Straightener straightener(mesh);
  auto stops = straightener.along_edges(from, to);
  if (!stops) {
    return fail(ErrorCode::not_found, "no way over the surface leads from one point to the other",
                format("vertices {} and {}", from, to), "Choose points on one connected part");
  }
  Way way{std::move(*stops), {}};
  way.strips.resize(way.stops.size() - 1);
  straightener.straighten(way);
  std::vector<EdgePoint> points{{from, from, 0}};
  for (std::size_t s = 0; s + 1 < way.stops.size(); ++s) {
    const auto shares = straightener.crossings(way.stops[s], way.strips[s], way.stops[s + 1]);
    for (std::size_t k = 0; k < shares.size(); ++k) {
      points.push_back({way.strips[s][k].left, way.strips[s][k].right, shares[k]});
    }
    points.push_back({way.stops[s + 1], way.stops[s + 1], 0});
  }
  return points;
}

double length_of(const TriMesh& mesh, std::span<const EdgePoint> way) {
  double sum = 0;
  for (std::size_t i = 0; i + 1 < way.size(); ++i) {
    sum += distance(place_of(mesh, way[i]), place_of(mesh, way[i + 1]));
  }
  return sum;
}

}  // namespace film::surface
