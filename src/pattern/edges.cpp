#include "pattern/edges.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "base/text.h"
#include "pattern/allowance.h"

namespace film::pattern {
namespace {

/// A closed ring with the way along it, so that points at any way can be asked for.
class Way {
 public:
  explicit Way(std::span<const Vec2> ring) : ring_(ring) {
    along_.push_back(0);
    for (std::size_t i = 0; i < ring.size(); ++i) {
      along_.push_back(along_.back() + distance(ring[i], ring[(i + 1) % ring.size()]));
    }
  }
  [[nodiscard]] double length() const { return along_.back(); }
  [[nodiscard]] double at_vertex(std::size_t i) const { return along_[i]; }
  [[nodiscard]] Vec2 at(double s) const {
    s -= std::floor(s / length()) * length();
    const auto after = std::upper_bound(along_.begin(), along_.end() - 1, s);
    const auto i = static_cast<std::size_t>(after - along_.begin()) - 1;
    const double step = along_[i + 1] - along_[i];
    const double share = step > 0 ? (s - along_[i]) / step : 0;
    const Vec2 from = ring_[i % ring_.size()];
    return from + share * (ring_[(i + 1) % ring_.size()] - from);
  }
  /// Way forward from one vertex to another.
  [[nodiscard]] double between(std::size_t from, std::size_t to) const {
    const double way = along_[to] - along_[from];
    return way > 0 ? way : way + length();
  }

 private:
  std::span<const Vec2> ring_;
  std::vector<double> along_;
};

std::size_t leftmost(std::span<const Vec2> ring) {
  const auto left = std::min_element(ring.begin(), ring.end(), [](Vec2 a, Vec2 b) {
    return a.x < b.x || (a.x == b.x && a.y < b.y);
  });
  return static_cast<std::size_t>(left - ring.begin());
}

/// Angle by which the ring bends between half a window before and half a window after a vertex.
double bend(const Way& way, double at, double window) {
  const double half = std::min(window, way.length() / 4) / 2;
  const Vec2 middle = way.at(at);
  const Vec2 arriving = middle - way.at(at - half);
  const Vec2 leaving = way.at(at + half) - middle;
  return std::abs(std::atan2(cross(arriving, leaving), dot(arriving, leaving)));
}

/// Takes the gentlest corner out while a stretch is too short.
void join_short(const Way& way, const std::vector<double>& bends, double shortest,
                std::vector<std::size_t>& found) {
  while (found.size() > 1) {
    std::size_t gentlest = found.size();
    for (std::size_t k = 0; k < found.size(); ++k) {
      const std::size_t next = (k + 1) % found.size();
      if (way.between(found[k], found[next]) >= shortest) continue;
      const std::size_t loser = bends[found[k]] < bends[found[next]] ? k : next;
      if (gentlest == found.size() || bends[found[loser]] < bends[found[gentlest]]) {
        gentlest = loser;
      }
    }
    if (gentlest == found.size()) return;
    found.erase(found.begin() + static_cast<std::ptrdiff_t>(gentlest));
  }
}

}  // namespace

std::vector<std::size_t> corners(std::span<const Vec2> ring, const DivideOptions& options) {
  const std::size_t n = ring.size();
  if (n == 0) return {};
  const Way way(ring);
  std::vector<double> bends;
  for (std::size_t i = 0; i < n; ++i) {
    bends.push_back(bend(way, way.at_vertex(i), options.window.value));
  }
  // A corner is the sharpest bend within a window.
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < n; ++i) {
    if (bends[i] <= options.corner.radians) continue;
    bool sharpest = true;
    for (std::size_t j = (i + 1) % n; j != i && way.between(i, j) < options.window.value;
         j = (j + 1) % n) {
      sharpest = sharpest && bends[j] < bends[i];
    }
    for (std::size_t j = (i + n - 1) % n; j != i && way.between(j, i) < options.window.value;
         j = (j + n - 1) % n) {
      sharpest = sharpest && bends[j] <= bends[i];
    }
    if (sharpest) found.push_back(i);
  }
  join_short(way, bends, options.shortest.value, found);
  if (found.empty()) found.push_back(leftmost(ring));
  return found;
}

std::vector<EdgeStretch> divide(const Polygon& fold, const DivideOptions& options) {
  std::vector<EdgeStretch> edges;
  const auto add = [&](std::size_t ring, const char* word, EdgeKind kind, std::size_t& number) {
    for (const std::size_t first : corners(ring_of(fold, ring), options)) {
      edges.push_back({format("{} {}", word, ++number), kind, ring, first, default_allowance(kind),
                       Corner::round});
    }
  };
  std::size_t outer = 0;
  std::size_t opening = 0;
  add(0, "edge", EdgeKind::gap, outer);
  for (std::size_t h = 1; h <= fold.holes.size(); ++h) {
    add(h, "opening", EdgeKind::cutout, opening);
  }
  return edges;
}

Piece piece_from_outline(std::string id, Polygon fold, const DivideOptions& options) {
  Piece piece;
  piece.name = id;
  piece.id = std::move(id);
  piece.edges = divide(fold, options);
  piece.cut = fold;
  piece.fold = std::move(fold);
  return piece;
}

}  // namespace film::pattern
