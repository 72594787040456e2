#include "surface/bulk.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>

#include "base/text.h"
#include "geometry/box.h"
#include "surface/detail/along_edges.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

using detail::kNoSide;
using detail::SideIndex;

constexpr double kPi = std::numbers::pi;
constexpr std::size_t kSectors = 8;
constexpr std::size_t kGreatestRays = 400;
constexpr double kOnePlace = 0.1;              ///< of the sheet's diagonal: pulls so close are one
constexpr double kCorner = 50 * kPi / 180;     ///< turn of the outline that makes a corner
constexpr double kCornerReach = 40;            ///< mm on each side over which it turns
constexpr double kTurnsAway = 25 * kPi / 180;  ///< of the panel's normal against the anchor's
constexpr double kLeastBay = 40;               ///< mm deep
constexpr double kLeastOpening = 60;           ///< mm long
constexpr double kOpeningStop = 15;            ///< mm left before the edge of an opening

class BulkPlanner {
 public:
  BulkPlanner(const TriMesh& surface, std::span<const Vec2> flat,
              std::span<const TriangleStrain> strains, const Reach& reach,
              const FilmProperties& film, const BulkOptions& options)
      : surface_(surface),
        flat_(flat),
        strains_(strains),
        reach_(reach),
        film_(film),
        options_(options),
        across_(detail::sides_across(surface.triangles, surface.points.size())),
        stars_(detail::triangles_at_vertices(surface.triangles, surface.points.size())),
        loops_(boundary_loops(surface)) {}

  BulkPlan run() {
    set_sheet();
    set_anchors();
    set_slack_cuts();
    set_pulls();
    set_steps();
    return std::move(plan_);
  }

 private:
  [[nodiscard]] Vec3 normal_at(VertexIndex v) const {
    Vec3 sum;
    for (const std::uint32_t t : stars_.at(v)) sum += area_vector(surface_, surface_.triangles[t]);
    return sum / length(sum);
  }

  /// The roll's own axes on the film.
  [[nodiscard]] Vec2 along() const {
    return {std::cos(reach_.turn.radians), -std::sin(reach_.turn.radians)};
  }

  void set_sheet() {
    const Vec2 x = along();
    const Vec2 y = left_of(x);
    std::vector<Vec2> turned;
    turned.reserve(flat_.size());
    for (const Vec2 p : flat_) turned.push_back({dot(x, p), dot(y, p)});
    const Box box = bounding_box(turned);
    const Vec2 middle = 0.5 * (box.low + box.high);
    plan_.length = reach_.length + 2 * options_.hold;
    plan_.width = std::min(Mm{box.height()} + 2 * options_.hold, options_.roll_width);
    const Vec2 half{plan_.length.value / 2, plan_.width.value / 2};
    const std::array<Vec2, 4> corners{Vec2{-half.x, -half.y}, Vec2{half.x, -half.y}, half,
                                      Vec2{-half.x, half.y}};
    for (std::size_t i = 0; i < 4; ++i) {
      const Vec2 p = middle + corners[i];
      plan_.sheet[i] = p.x * x + p.y * y;
    }
  }

  [[nodiscard]] std::vector<double> distance_from_edge() const {
    std::vector<VertexIndex> edge;
    for (const auto& loop : loops_) edge.insert(edge.end(), loop.begin(), loop.end());
    return detail::distances_along_edges<Vec2>(surface_.triangles, stars_, flat_, edge);
  }

  /// Departure from no strain, mean over the triangles at a vertex.
  [[nodiscard]] double unrest_at(VertexIndex v) const {
    double sum = 0;
    for (const std::uint32_t t : stars_.at(v)) {
      sum += std::max(std::abs(strains_[t].major - 1), std::abs(strains_[t].minor - 1));
    }
    return sum / static_cast<double>(stars_.at(v).size());
  }

  void set_anchors() {
    if (reach_.stretch_needed > 1) {
      // One side is held, the other pulled: a quarter in from both ends of the low side.
      for (const double share : {0.25, 0.75}) plan_.anchors.push_back(anchor_on_side(share));
      centre_ = calmest();
      return;
    }
    centre_ = calmest();
    plan_.anchors.push_back({flat_[centre_], surface_.points[centre_]});
  }

  [[nodiscard]] VertexIndex calmest() const {
    const std::vector<double> far = distance_from_edge();
    const double farthest = *std::max_element(far.begin(), far.end());
    std::vector<double> unrest(flat_.size());
    for (VertexIndex v = 0; v < flat_.size(); ++v) unrest[v] = unrest_at(v);
    const double worst = std::max(*std::max_element(unrest.begin(), unrest.end()), 1e-9);
    VertexIndex best = 0;
    double best_score = -std::numeric_limits<double>::infinity();
    for (VertexIndex v = 0; v < flat_.size(); ++v) {
      const double score = far[v] / std::max(farthest, 1e-9) - unrest[v] / worst;
      if (score > best_score) {
        best_score = score;
        best = v;
      }
    }
    return best;
  }

  [[nodiscard]] Anchor anchor_on_side(double share) const {
    const Vec2 low = plan_.sheet[0];
    const Vec2 target = low + share * (plan_.sheet[1] - low);
    VertexIndex best = loops_[0][0];
    for (const VertexIndex v : loops_[0]) {
      if (distance(flat_[v], target) < distance(flat_[best], target)) best = v;
    }
    return {flat_[best], surface_.points[best]};
  }

  /// A point so far out of the piece along a direction, but on the sheet.
  [[nodiscard]] Vec2 sheet_edge(Vec2 from, Vec2 direction) const {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < 4; ++i) {
      const Vec2 a = plan_.sheet[i];
      const Vec2 side = plan_.sheet[(i + 1) % 4] - a;
      const double rate = cross(side, direction);
      if (!(rate < 0)) continue;  // moves away from this side
      least = std::min(least, cross(side, a - from) / rate);
    }
    return from + std::max(least, 0.0) * direction;
  }

  void add_slack_cut(SlackCut::Why why, Vec2 from, Vec2 to) {
    if (distance(from, to) < 10) return;  // a nick that a hand makes anyway
    plan_.slack_cuts.push_back({why, {from, to}});
  }

  void set_slack_cuts() {
    add_corner_cuts();
    add_bay_cuts();
    for (std::size_t k = 1; k < loops_.size(); ++k) add_opening_cut(loops_[k]);
  }

  void add_corner_cuts() {
    const auto& loop = loops_[0];
    const std::size_t n = loop.size();
    std::vector<double> along{0};
    for (std::size_t i = 0; i < n; ++i) {
      along.push_back(along.back() + distance(flat_[loop[i]], flat_[loop[(i + 1) % n]]));
    }
    const auto at = [&](double s) {  // point of the outline
      s = std::fmod(s + along.back(), along.back());
      const auto i = std::min(static_cast<std::size_t>(
                                  std::upper_bound(along.begin(), along.end(), s) - along.begin()) -
                                  1,
                              n - 1);
      const double share = (s - along[i]) / std::max(along[i + 1] - along[i], 1e-12);
      return flat_[loop[i]] + share * (flat_[loop[(i + 1) % n]] - flat_[loop[i]]);
    };
    std::vector<double> turn(n);
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 in = flat_[loop[i]] - at(along[i] - kCornerReach);
      const Vec2 out = at(along[i] + kCornerReach) - flat_[loop[i]];
      turn[i] = std::atan2(cross(in, out), dot(in, out));
    }
    const Vec3 up = normal_at(centre_);
    for (std::size_t i = 0; i < n; ++i) {
      if (turn[i] < kCorner || !sharpest_nearby(along, turn, i)) continue;
      if (dot(normal_at(loop[i]), up) > std::cos(kTurnsAway)) continue;
      const Vec2 corner = flat_[loop[i]];
      const Vec2 outward = 2 * corner - at(along[i] - kCornerReach) - at(along[i] + kCornerReach);
      const Vec2 direction = outward / length(outward);
      add_slack_cut(SlackCut::Why::corner, sheet_edge(corner, direction),
                    corner + options_.slack_stop.value * direction);
    }
  }

  static bool sharpest_nearby(std::span<const double> along, std::span<const double> turn,
                              std::size_t i) {
    const std::size_t n = turn.size();
    for (std::size_t j = 0; j < n; ++j) {
      double apart = std::abs(along[i] - along[j]);
      apart = std::min(apart, along[n] - apart);
      if (apart < 2 * kCornerReach && (turn[j] > turn[i] || (turn[j] == turn[i] && j < i))) {
        return false;
      }
    }
    return true;
  }

  /// Where the outline leaves its convex hull by more than kLeastBay the sheet spans a bay.
  void add_bay_cuts() {
    const auto& loop = loops_[0];
    std::vector<std::size_t> hull;  // indices in the loop, in its own order
    const auto leftmost = static_cast<std::size_t>(
        std::min_element(loop.begin(), loop.end(),
                         [&](VertexIndex a, VertexIndex b) { return flat_[a].x < flat_[b].x; }) -
        loop.begin());
    // The loop runs counter-clockwise: wrap it from hull point to hull point.
    std::size_t at = 0;
    const auto point = [&](std::size_t i) { return flat_[loop[(leftmost + i) % loop.size()]]; };
    hull.push_back(0);
    while (at < loop.size()) {
      std::size_t next = at + 1;
      for (std::size_t j = at + 2; j <= loop.size(); ++j) {
        const double turn = cross(point(next) - point(at), point(j) - point(at));
        const bool farther = distance(point(at), point(j)) > distance(point(at), point(next));
        if (turn < 0 || (turn == 0 && farther)) next = j;
      }
      at = next;
      hull.push_back(at);
    }
    for (std::size_t k = 0; k + 1 < hull.size(); ++k) {
      const Vec2 a = point(hull[k]);
      const Vec2 b = point(hull[k + 1]);
      const Vec2 inward = left_of(b - a) / std::max(distance(a, b), 1e-9);
      double deepest = 0;
      Vec2 end;
      for (std::size_t i = hull[k] + 1; i < hull[k + 1]; ++i) {
        const double depth = dot(point(i) - a, inward);
        if (depth <= deepest) continue;
        deepest = depth;
        end = point(i);
      }
      if (deepest < kLeastBay) continue;
      add_slack_cut(SlackCut::Why::bay, sheet_edge(end, -inward),
                    end - options_.slack_stop.value * inward);
    }
  }

  void add_opening_cut(const std::vector<VertexIndex>& loop) {
    Vec2 a = flat_[loop[0]];
    Vec2 b = a;
    for (const VertexIndex v : loop) {
      for (const VertexIndex w : loop) {
        if (distance(flat_[v], flat_[w]) > distance(a, b)) {
          a = flat_[v];
          b = flat_[w];
        }
      }
    }
    const double long_way = distance(a, b);
    if (long_way < kLeastOpening) return;
    const Vec2 in = kOpeningStop / long_way * (b - a);
    add_slack_cut(SlackCut::Why::opening, a + in, b - in);
  }

  /// Growth of the film along the straight line from the centre, walking from triangle to triangle
  /// until the line leaves the panel.
  [[nodiscard]] std::optional<Pull> pull_towards(Vec2 target) const {
    const Vec2 from = flat_[centre_];
    const double far = distance(from, target);
    if (far < 1) return std::nullopt;
    const Vec2 d = (target - from) / far;
    SideIndex entered = kNoSide;
    std::uint32_t t = 0;
    bool found = false;
    for (const std::uint32_t star : stars_.at(centre_)) {
      const Triangle& c = surface_.triangles[star];
      const std::size_t k = c[0] == centre_ ? 0 : c[1] == centre_ ? 1 : 2;
      const Vec2 first = flat_[c[(k + 1) % 3]] - from;
      const Vec2 second = flat_[c[(k + 2) % 3]] - from;
      if (cross(first, d) >= 0 && cross(d, second) > 0) {
        t = star;
        entered = static_cast<SideIndex>(3 * star + k);  // the centre's own side is not crossed
        found = true;
        break;
      }
    }
    if (!found) return std::nullopt;
    double at = 0;
    double growth = 0;
    Pull pull;
    bool first_triangle = true;
    for (std::size_t guard = 0; guard < surface_.triangles.size(); ++guard) {
      SideIndex leaves = kNoSide;
      double until = at;
      for (SideIndex s = 3 * t; s < 3 * t + 3; ++s) {
        if (first_triangle ? s != detail::next_side(entered) : s == entered) continue;
        const Vec2 a = flat_[detail::start_of(surface_.triangles, s)];
        const Vec2 side = flat_[detail::end_of(surface_.triangles, s)] - a;
        const double rate = cross(d, side);
        if (!(rate > 0)) continue;  // the line enters by this side
        const double crossing = cross(a - from, side) / rate;
        if (leaves == kNoSide || crossing < until) {
          until = crossing;
          leaves = s;
        }
      }
      if (leaves == kNoSide) break;
      first_triangle = false;
      const double end = std::min(until, far);
      const TriangleStrain& strain = strains_[t];
      const double c = dot(d, strain.direction);
      const double stretch = std::sqrt(strain.major * strain.major * c * c +
                                       strain.minor * strain.minor * (1 - c * c));
      growth += std::max(end - at, 0.0) * (stretch - 1);
      at = std::max(end, at);
      set_place(pull, t, from + at * d, d);
      if (until >= far || across_[leaves] == kNoSide) break;
      entered = across_[leaves];
      t = entered / 3;
    }
    if (at < 0.5 * far) return std::nullopt;  // hidden behind a bay or an opening
    pull.from = from;
    pull.to = from + at * d;
    pull.amount = Mm{growth};
    pull.stretch = 1 + growth / at;
    pull.draws_back = Mm{film_.pull_back * std::max(growth, 0.0)};
    return pull;
  }

  /// Carries a place and a direction on the film to the panel through one triangle.
  void set_place(Pull& pull, std::uint32_t t, Vec2 p, Vec2 d) const {
    const Triangle& c = surface_.triangles[t];
    const Vec2 u = flat_[c[1]] - flat_[c[0]];
    const Vec2 v = flat_[c[2]] - flat_[c[0]];
    const double area = cross(u, v);
    const auto carry = [&](Vec2 q) {
      return cross(q, v) / area * (surface_.points[c[1]] - surface_.points[c[0]]) +
             cross(u, q) / area * (surface_.points[c[2]] - surface_.points[c[0]]);
    };
    pull.at = surface_.points[c[0]] + carry(p - flat_[c[0]]);
    const Vec3 direction = carry(d);
    pull.direction = direction / length(direction);
  }

  void set_pulls() {
    const auto& loop = loops_[0];
    const std::size_t stride = loop.size() / kGreatestRays + 1;
    std::array<std::optional<Pull>, kSectors> most;
    std::array<std::optional<Pull>, kSectors> least;
    for (std::size_t i = 0; i < loop.size(); i += stride) {
      auto pull = pull_towards(flat_[loop[i]]);
      if (!pull) continue;
      const Vec2 d = pull->to - pull->from;
      const Vec2 x = along();
      const double angle = std::atan2(cross(x, d), dot(x, d));
      // The anchored side of a sheet that is pulled over a wide panel stays where it is.
      if (reach_.stretch_needed > 1 && cross(x, d) < -0.3 * length(d)) continue;
      const auto sector =
          static_cast<std::size_t>(std::lround(angle / (2 * kPi) * kSectors + kSectors)) % kSectors;
      if (!most[sector] || pull->amount > most[sector]->amount) most[sector] = pull;
      if (!least[sector] || pull->amount < least[sector]->amount) least[sector] = pull;
    }
    const auto growth = [&](std::size_t s) {
      return most[s] ? std::max(most[s]->amount.value, 0.0) : 0.0;
    };
    plan_.draws_back_along = Mm{film_.pull_back * (growth(0) + growth(4))};
    plan_.draws_back_across = Mm{film_.pull_back * (growth(2) + growth(6))};
    add_reach_pull();
    std::array<bool, kSectors> done{};
    for (std::size_t round = 0; round < kSectors; ++round) {
      std::size_t next = kSectors;
      for (std::size_t s = 0; s < kSectors; ++s) {
        if (!done[s] && (next == kSectors || growth(s) > growth(next))) next = s;
      }
      if (next == kSectors || growth(next) < options_.least_pull.value) break;
      for (const std::size_t s : {next, (next + kSectors / 2) % kSectors}) {
        if (done[s]) continue;
        done[s] = true;
        if (growth(s) >= options_.least_pull.value && !pulled_near(most[s]->to)) {
          plan_.pulls.push_back(*most[s]);
        }
      }
    }
    std::vector<Pull> left_over;
    for (const auto& pull : least) {
      if (pull && pull->amount.value <= -options_.least_pull.value) left_over.push_back(*pull);
    }
    std::stable_sort(left_over.begin(), left_over.end(),
                     [](const Pull& a, const Pull& b) { return a.amount < b.amount; });
    plan_.pulls.insert(plan_.pulls.end(), left_over.begin(), left_over.end());
    for (Pull& pull : plan_.pulls) pull.words = words_of(pull);
  }

  /// Neighbouring eighths may have their greatest pull at one corner.
  [[nodiscard]] bool pulled_near(Vec2 to) const {
    const double near = kOnePlace * distance(plan_.sheet[0], plan_.sheet[2]);
    return std::any_of(plan_.pulls.begin(), plan_.pulls.end(),
                       [&](const Pull& pull) { return distance(pull.to, to) < near; });
  }

  /// The pull across the roll that makes a panel wider than the roll reachable.
  void add_reach_pull() {
    if (!(reach_.stretch_needed > 1)) return;
    const Vec2 y = left_of(along());
    VertexIndex farthest = loops_[0][0];
    const Vec2 middle = flat_[centre_];
    double best = -std::numeric_limits<double>::infinity();
    for (const VertexIndex v : loops_[0]) {
      const double score = dot(y, flat_[v]) - 0.1 * std::abs(dot(along(), flat_[v] - middle));
      if (score > best) {
        best = score;
        farthest = v;
      }
    }
    Pull pull;
    const double amount = reach_.width.value * (1 - 1 / reach_.stretch_needed);
    set_place(pull, stars_.at(farthest)[0], flat_[farthest], y);
    pull.from = flat_[farthest] - reach_.width.value * y;
    pull.to = flat_[farthest];
    pull.amount = Mm{amount};
    pull.stretch = reach_.stretch_needed;
    pull.draws_back = Mm{film_.pull_back * amount};
    plan_.draws_back_across = plan_.draws_back_across + pull.draws_back;
    plan_.pulls.push_back(std::move(pull));
  }

  [[nodiscard]] std::string towards(const Pull& pull) const {
    if (options_.directions == Directions::of_vehicle) {
      const std::array<std::pair<double, const char*>, 3> axes{
          std::pair{pull.direction.x, pull.direction.x > 0 ? "the front" : "the rear"},
          std::pair{pull.direction.y, pull.direction.y > 0 ? "the left" : "the right"},
          std::pair{pull.direction.z, pull.direction.z > 0 ? "the top" : "the bottom"}};
      std::string words;
      for (const auto& [share, word] : axes) {
        if (std::abs(share) < 0.4) continue;
        words += (words.empty() ? "towards " : " and ") + std::string(word);
      }
      return words;
    }
    const Vec2 d = pull.to - pull.from;
    const double x = dot(along(), d) / length(d);
    const double y = cross(along(), d) / length(d);
    if (std::abs(y) < 0.4)
      return x > 0 ? "along the roll, to the right" : "along the roll, to the left";
    if (std::abs(x) < 0.4) return y > 0 ? "across the roll, upwards" : "across the roll, downwards";
    return format("slantwise, {} and {}", x > 0 ? "to the right" : "to the left",
                  y > 0 ? "upwards" : "downwards");
  }

  [[nodiscard]] std::string words_of(const Pull& pull) const {
    if (pull.amount.value < 0) {
      return format("Work {:.1f} mm of film left over out {}.", -pull.amount.value, towards(pull));
    }
    return format(
        "Pull {} until the edge has come {:.1f} mm ({:.2f} % stretch); it would draw back "
        "{:.1f} mm.",
        towards(pull), pull.amount.value, 100 * (pull.stretch - 1), pull.draws_back.value);
  }

  void set_steps() {
    auto& steps = plan_.steps;
    steps.push_back(
        format("Cut {:.0f} mm of the {:.0f} mm roll: {:.0f} x {:.0f} mm with {:.0f} mm "
               "to hold.",
               plan_.length.value, options_.roll_width.value, plan_.length.value, plan_.width.value,
               options_.hold.value));
    steps.emplace_back(plan_.anchors.size() > 1
                           ? "Lay it on wet and tack two anchors on one side."
                           : "Lay it on wet, centre it and tack the anchor where the film is "
                             "stretched least.");
    add_slack_step();
    for (const Pull& pull : plan_.pulls) steps.push_back(pull.words);
    if (plan_.pulls.empty()) steps.emplace_back("Squeegee outwards; no pull is needed.");
    if (plan_.draws_back_along.value + plan_.draws_back_across.value >= options_.least_pull.value) {
      steps.push_back(
          format("Release with hot water before the final cut: the film draws back up to "
                 "{:.1f} mm along and {:.1f} mm across the roll.",
                 plan_.draws_back_along.value, plan_.draws_back_across.value));
    }
    steps.emplace_back("Lift the edge and trim off the paint; never score the panel.");
  }

  void add_slack_step() {
    std::array<std::size_t, 3> counts{};
    for (const SlackCut& cut : plan_.slack_cuts) ++counts[static_cast<std::size_t>(cut.why)];
    const std::array<const char*, 3> words{"at the corners that turn away",
                                           "into the bays of the outline", "through the openings"};
    std::string text;
    for (std::size_t k = 0; k < counts.size(); ++k) {
      if (counts[k] == 0) continue;
      text += format("{}{} {}", text.empty() ? "" : ", ", counts[k], words[k]);
    }
    if (text.empty()) return;
    plan_.steps.push_back(
        format("Before stretching make the slack cuts, so that the film does not "
               "catch on the neighbours: {}; stop {:.0f} mm before the edge.",
               text, options_.slack_stop.value));
  }

  const TriMesh& surface_;
  std::span<const Vec2> flat_;
  std::span<const TriangleStrain> strains_;
  const Reach& reach_;
  const FilmProperties& film_;
  const BulkOptions& options_;
  std::vector<SideIndex> across_;
  detail::VertexTriangles stars_;
  std::vector<std::vector<VertexIndex>> loops_;
  VertexIndex centre_ = 0;
  BulkPlan plan_;
};

}  // namespace

BulkPlan plan_bulk(const TriMesh& surface, std::span<const Vec2> flat,
                   std::span<const TriangleStrain> strains, const Reach& reach,
                   const FilmProperties& film, const BulkOptions& options) {
  return BulkPlanner(surface, flat, strains, reach, film, options).run();
}

}  // namespace film::surface
