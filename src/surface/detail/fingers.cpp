#include "surface/detail/fingers.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <utility>

#include "surface/detail/topology.h"

namespace film::surface::detail {
namespace {

constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();

/// A direction without sense, as a vector at twice its angle; these can be added.
Vec2 doubled(Vec2 d) { return {d.x * d.x - d.y * d.y, 2 * d.x * d.y}; }
Vec2 halved(Vec2 d) {
  const double angle = std::atan2(d.y, d.x) / 2;
  return {std::cos(angle), std::sin(angle)};
}

/// Points of the fingers found so far, in cells one spacing wide.
class Taken {
 public:
  explicit Taken(double spacing) : spacing_(spacing) {}

  void add(Vec2 a, Vec2 b) {
    const int parts = std::max(1, static_cast<int>(std::ceil(4 * distance(a, b) / spacing_)));
    for (int i = 0; i <= parts; ++i) {
      const Vec2 p = a + (static_cast<double>(i) / parts) * (b - a);
      cells_[{cell(p.x), cell(p.y)}].push_back(p);
    }
  }
  /// Whether one lies closer than `reach`, at most the spacing.
  [[nodiscard]] bool near(Vec2 p, double reach) const {
    for (std::int64_t x = cell(p.x) - 1; x <= cell(p.x) + 1; ++x) {
      for (std::int64_t y = cell(p.y) - 1; y <= cell(p.y) + 1; ++y) {
        const auto found = cells_.find({x, y});
        if (found == cells_.end()) continue;
        for (const Vec2 q : found->second) {
          if (distance(p, q) < reach) return true;
        }
      }
    }
    return false;
  }

 private:
  [[nodiscard]] std::int64_t cell(double x) const {
    return static_cast<std::int64_t>(std::floor(x / spacing_));
  }
  double spacing_;
  std::map<std::pair<std::int64_t, std::int64_t>, std::vector<Vec2>> cells_;
};

class FingerFinder {
 public:
  FingerFinder(const TriMesh& surface, std::span<const Vec2> film,
               std::span<const TriangleTension> tensions, double threshold, double spacing)
      : surface_(surface),
        film_(film),
        tensions_(tensions),
        spacing_(spacing),
        across_(sides_across(surface.triangles, surface.points.size())),
        part_(surface.triangles.size(), kNone),
        taken_(spacing) {
    for (std::size_t t = 0; t < part_.size(); ++t) {
      folds_.push_back(tensions[t].surplus > threshold ? 1 : 0);
    }
  }

  std::vector<FingerArea> run() {
    smooth_directions();
    std::vector<FingerArea> areas;
    for (std::uint32_t t = 0; t < part_.size(); ++t) {
      if (!folds_[t] || part_[t] != kNone) continue;
      FingerArea area = area_of(grow(t));
      if (!area.fingers.empty()) areas.push_back(std::move(area));
    }
    std::stable_sort(areas.begin(), areas.end(), [](const FingerArea& a, const FingerArea& b) {
      return a.surplus > b.surplus;
    });
    return areas;
  }

 private:
  [[nodiscard]] double panel_area(std::size_t t) const {
    return length(area_vector(surface_, surface_.triangles[t])) / 2;
  }
  [[nodiscard]] double film_area(std::size_t t) const {
    const Triangle& c = surface_.triangles[t];
    return cross(film_[c[1]] - film_[c[0]], film_[c[2]] - film_[c[0]]) / 2;
  }
  [[nodiscard]] Vec2 middle(std::size_t t) const {
    const Triangle& c = surface_.triangles[t];
    return (film_[c[0]] + film_[c[1]] + film_[c[2]]) / 3.0;
  }

  /// One number for each triangle is rough: directions are averaged at the vertices, by surplus.
  void smooth_directions() {
    std::vector<Vec2> at_vertex(surface_.points.size());
    for (std::size_t t = 0; t < folds_.size(); ++t) {
      if (!folds_[t]) continue;
      const Vec2 d = film_area(t) * tensions_[t].surplus * doubled(tensions_[t].direction);
      for (const VertexIndex v : surface_.triangles[t]) at_vertex[v] += d;
    }
    directions_.resize(folds_.size());
    for (std::size_t t = 0; t < folds_.size(); ++t) {
      Vec2 sum;
      for (const VertexIndex v : surface_.triangles[t]) sum += at_vertex[v];
      directions_[t] = length(sum) > 0 ? halved(sum) : tensions_[t].direction;
    }
  }

  /// All triangles that hang together with this one.
  std::vector<std::uint32_t> grow(std::uint32_t seed) {
    std::vector<std::uint32_t> part{seed};
    part_[seed] = seed;
    for (std::size_t head = 0; head < part.size(); ++head) {
      for (SideIndex s = 3 * part[head]; s < 3 * part[head] + 3; ++s) {
        if (across_[s] == kNoSide) continue;
        const std::uint32_t next = across_[s] / 3;
        if (!folds_[next] || part_[next] != kNone) continue;
        part_[next] = seed;
        part.push_back(next);
      }
    }
    return part;
  }

  FingerArea area_of(std::vector<std::uint32_t> part) {
    FingerArea result;
    for (const std::uint32_t t : part) {
      result.area += panel_area(t);
      result.surplus += film_area(t) * tensions_[t].surplus;
    }
    std::stable_sort(part.begin(), part.end(), [this](std::uint32_t a, std::uint32_t b) {
      return tensions_[a].surplus > tensions_[b].surplus;
    });
    const Triangle& c = surface_.triangles[part.front()];
    result.place = (surface_.points[c[0]] + surface_.points[c[1]] + surface_.points[c[2]]) / 3.0;
    for (const std::uint32_t t : part) {
      if (taken_.near(middle(t), spacing_)) continue;
      Finger finger = trace(t);
      // What is shorter than half the spacing is no line.
      if (finger.length < spacing_ / 2) continue;
      for (std::size_t i = 0; i + 1 < finger.on_film.size(); ++i) {
        taken_.add(finger.on_film[i], finger.on_film[i + 1]);
      }
      result.fingers.push_back(std::move(finger));
    }
    std::stable_sort(result.fingers.begin(), result.fingers.end(),
                     [](const Finger& a, const Finger& b) { return a.length > b.length; });
    return result;
  }

  [[nodiscard]] Vec3 on_panel(std::size_t t, Vec2 p) const {
    const Triangle& c = surface_.triangles[t];
    const Vec2 a = film_[c[1]] - film_[c[0]];
    const Vec2 b = film_[c[2]] - film_[c[0]];
    const Vec2 d = p - film_[c[0]];
    const double det = cross(a, b);
    const double u = cross(d, b) / det;
    const double v = cross(a, d) / det;
    return (1 - u - v) * surface_.points[c[0]] + u * surface_.points[c[1]] +
           v * surface_.points[c[2]];
  }

  Finger trace(std::uint32_t start) {
    Finger finger;
    Walk forward = walk(start, 1);
    const Walk backward = walk(start, -1);
    finger.gathers = spacing_ * tensions_[start].surplus;
    for (std::size_t i = backward.on_film.size(); i-- > 1;) {
      finger.on_film.push_back(backward.on_film[i]);
      finger.on_panel.push_back(backward.on_panel[i]);
    }
    finger.on_film.insert(finger.on_film.end(), forward.on_film.begin(), forward.on_film.end());
    finger.on_panel.insert(finger.on_panel.end(), forward.on_panel.begin(), forward.on_panel.end());
    for (std::size_t i = 1; i < finger.on_panel.size(); ++i) {
      finger.length += distance(finger.on_panel[i - 1], finger.on_panel[i]);
    }
    return finger;
  }

  struct Walk {
    std::vector<Vec2> on_film;
    std::vector<Vec3> on_panel;
  };

  /// From the middle of a triangle along the folds, straight within each triangle, to where they
  /// end, leave the panel or come near another finger.
  Walk walk(std::uint32_t t, double sense) {
    Walk result;
    Vec2 at = middle(t);
    Vec2 before = sense * directions_[t];
    SideIndex entered = kNoSide;
    result.on_film.push_back(at);
    result.on_panel.push_back(on_panel(t, at));
    for (std::size_t steps = 0; steps < folds_.size(); ++steps) {
      Vec2 along = directions_[t];
      if (dot(along, before) < 0) along = -along;
      // A turn of more than 60 degrees from one triangle to the next is no longer the same fold.
      if (dot(along, before) < 0.5) break;
      double least = std::numeric_limits<double>::infinity();
      SideIndex out = kNoSide;
      for (SideIndex s = 3 * t; s < 3 * t + 3; ++s) {
        if (s == entered) continue;
        const Vec2 a = film_[start_of(surface_.triangles, s)];
        const Vec2 side = film_[end_of(surface_.triangles, s)] - a;
        const double leaving = cross(along, side);
        if (!(leaving > 0)) continue;
        const double distance_to = std::max(cross(a - at, side) / leaving, 0.0);
        if (distance_to < least) {
          least = distance_to;
          out = s;
        }
      }
      if (out == kNoSide) break;
      at += least * along;
      before = along;
      result.on_film.push_back(at);
      result.on_panel.push_back(on_panel(t, at));
      entered = across_[out];
      if (entered == kNoSide || !folds_[entered / 3]) break;
      t = entered / 3;
      if (taken_.near(at, spacing_ / 2)) break;
    }
    return result;
  }

  const TriMesh& surface_;
  std::span<const Vec2> film_;
  std::span<const TriangleTension> tensions_;
  double spacing_;
  std::vector<SideIndex> across_;
  std::vector<std::uint32_t> part_;  // of each triangle: the first triangle of its part
  std::vector<char> folds_;
  std::vector<Vec2> directions_;
  Taken taken_;
};

}  // namespace

std::vector<FingerArea> find_fingers(const TriMesh& surface, std::span<const Vec2> film,
                                     std::span<const TriangleTension> tensions, double threshold,
                                     double spacing) {
  return FingerFinder(surface, film, tensions, threshold, spacing).run();
}

}  // namespace film::surface::detail
