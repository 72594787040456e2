#include "layout/detail/search/push.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <deque>
#include <limits>
#include <utility>

#include "layout/detail/collision/engine.h"
#include "layout/verify.h"

namespace film::layout::detail {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
/// Times that a piece may be pushed further, on average, before the push is given up.
constexpr std::size_t kPushes = 60;

struct Edge {
  Vec2 from, to;
};

std::vector<Edge> edges_of(const Polygon& shape) {
  std::vector<Edge> edges;
  const auto add = [&edges](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      edges.push_back({ring[i], ring[(i + 1) % ring.size()]});
    }
  };
  add(shape.outer);
  for (const Ring& hole : shape.holes) add(hole);
  return edges;
}

double squared_distance(const Edge& edge, Vec2 p) {
  const Vec2 along = edge.to - edge.from;
  const double t = std::clamp(dot(p - edge.from, along) / squared_length(along), 0.0, 1.0);
  return squared_length(p - edge.from - t * along);
}

/// How far p can go in direction `sign` along x before it is nearer than `radius` to the edge.
double ray(Vec2 p, double sign, const Edge& edge, double radius) {
  double first = kNever;
  const auto offer = [&](double x) {
    const double way = sign * (x - p.x);
    if (way > 0) first = std::min(first, way);
  };
  for (const Vec2 end : {edge.from, edge.to}) {
    const double rise = p.y - end.y;
    if (std::abs(rise) < radius) {
      const double half = std::sqrt(radius * radius - rise * rise);
      offer(end.x - sign * half);
    }
  }
  const Vec2 along = edge.to - edge.from;
  const double size = length(along);
  if (along.y == 0) return first;
  for (const double side : {radius, -radius}) {
    const Vec2 out{side * along.y / size, -side * along.x / size};
    const double t = (p.y - edge.from.y - out.y) / along.y;
    if (t >= 0 && t <= 1) offer(edge.from.x + out.x + t * along.x);
  }
  return first;
}

/// What lies on the strip: a piece or a defect.
struct Thing {
  std::vector<Edge> edges;
  Box box;
  bool fixed = false;
  double gap = 0;    ///< to others
  double shift = 0;  ///< along x, so far
};

class Push {
 public:
  Push(const Problem& problem, std::span<const PlacedPiece> pieces,
       std::span<const PlacedPiece> kept)
      : problem_(problem), rounding_(kSlackShare * problem.strip.width) {
    for (const PlacedPiece& piece : pieces) {
      const Polygon outline = outline_of(problem, piece);
      const bool fixed = std::find(kept.begin(), kept.end(), piece) != kept.end();
      things_.push_back({edges_of(outline), bounding_box(outline), fixed, problem.strip.gap});
    }
    for (const Polygon& defect : problem.strip.defects) {
      things_.push_back({edges_of(defect), bounding_box(defect), true, 0});
    }
    gone_.assign(things_.size(), 0);
    clearances_.assign(things_.size() * things_.size(), -1);
  }

  /// Takes what verify says of the pieces as they lie.
  void heed(const std::vector<Violation>& violations) {
    for (const Violation& violation : violations) {
      const std::vector<std::size_t>& at = violation.placements;
      if (at.size() == 1 && !things_[at[0]].fixed) gone_[at[0]] = 1;
      if (at.size() == 2) heed_clash(at[0], at[1]);
    }
  }

  /// Pushes until all have room; false when that finds no end.
  bool run() {
    std::deque<std::size_t> queue;
    for (const auto& [front, back] : clashes_) queue.push_back(front);
    std::size_t left = kPushes * things_.size();
    while (!queue.empty()) {
      if (left-- == 0) return false;
      const std::size_t i = queue.front();
      queue.pop_front();
      if (gone_[i]) continue;
      go_past_clashes(i);
      jump_over_fixed(i);
      for (std::size_t k = 0; k < things_.size(); ++k) {
        if (k == i || gone_[k] || things_[k].fixed) continue;
        if (clash(k, i)) {
          queue.push_back(k);
        } else if (const double needed = things_[i].shift - room(i, k); needed > things_[k].shift) {
          things_[k].shift = needed;
          queue.push_back(k);
        }
      }
    }
    return true;
  }

  [[nodiscard]] bool gone(std::size_t i) const { return gone_[i] != 0; }
  [[nodiscard]] double shift(std::size_t i) const { return things_[i].shift; }

 private:
  void heed_clash(std::size_t a, std::size_t b) {
    const auto middle = [this](std::size_t i) { return things_[i].box.centre().x; };
    const std::size_t back = middle(a) <= middle(b) ? a : b;
    const std::size_t front = back == a ? b : a;
    if (things_[front].fixed) {
      if (!things_[back].fixed) gone_[back] = 1;
      return;
    }
    clashes_.emplace_back(front, back);
  }

  /// How far `front` may go to the left, from `shift` to the right of where it lies, before it is
  /// too near to `back`.
  [[nodiscard]] double clearance(const Thing& back, const Thing& front, double shift) const {
    const double gap = std::min(back.gap, front.gap);
    if (front.box.low.y >= back.box.high.y + gap || back.box.low.y >= front.box.high.y + gap) {
      return kNever;
    }
    double least = kNever;
    const auto meet = [&](const Thing& points, double sign, const Thing& edges, double moved) {
      for (const Edge& at : points.edges) {
        const Vec2 p = at.from + Vec2{moved, 0};
        for (const Edge& edge : edges.edges) {
          if (p.y + gap < std::min(edge.from.y, edge.to.y) ||
              p.y - gap > std::max(edge.from.y, edge.to.y) ||
              (sign < 0 ? std::min(edge.from.x, edge.to.x) > p.x + gap
                        : std::max(edge.from.x, edge.to.x) < p.x - gap)) {
            continue;
          }
          const double wide = gap + rounding_;
          if (squared_distance(edge, p) > wide * wide) {
            least = std::min(least, ray(p, sign, edge, wide));
          } else if (ray(p, sign, edge, std::max(0.0, gap - rounding_)) < kNever) {
            least = 0;  // they touch
          }
        }
      }
    };
    meet(front, -1, back, shift);
    meet(back, 1, front, -shift);
    return least;
  }

  /// How far right of its place `front` must lie to come from the right and stop at `back`.
  [[nodiscard]] double way_past(const Thing& back, const Thing& front) const {
    const double far = back.box.high.x - front.box.low.x + problem_.strip.gap + 4 * rounding_;
    if (far <= 0) return 0;
    const double free = clearance(back, front, far);
    return free == kNever ? 0 : std::max(0.0, far - free);
  }

  [[nodiscard]] bool clash(std::size_t front, std::size_t back) const {
    return std::find(clashes_.begin(), clashes_.end(), std::pair(front, back)) != clashes_.end();
  }

  /// How far `i` may go right before it pushes `k`, from where both lie; a quick answer when it is
  /// farther than it has to go.
  [[nodiscard]] double room(std::size_t i, std::size_t k) {
    const Thing& back = things_[i];
    const Thing& front = things_[k];
    const double reach = std::min(back.gap, front.gap) + rounding_;
    if (back.shift <= front.shift || clash(i, k) || clash(k, i) ||
        back.box.low.x > front.box.high.x + reach ||
        back.box.high.x + back.shift + reach < front.box.low.x + front.shift) {
      return kNever;
    }
    double& known = clearances_[i * things_.size() + k];
    if (known < 0) known = clearance(back, front, 0);
    return known;
  }

  void go_past_clashes(std::size_t i) {
    Thing& piece = things_[i];
    for (const auto& [front, back] : clashes_) {
      if (front != i || gone_[back]) continue;
      const Thing& other = things_[back];
      piece.shift = std::max(piece.shift, other.shift + way_past(other, piece));
    }
  }

  void jump_over_fixed(std::size_t i) {
    Thing& piece = things_[i];
    for (bool again = true; again;) {
      again = false;
      for (std::size_t k = 0; k < things_.size(); ++k) {
        if (!things_[k].fixed || gone_[k]) continue;
        if (piece.shift <= room(i, k)) continue;
        const double past = way_past(things_[k], piece);
        if (past <= piece.shift) continue;
        piece.shift = past;
        again = true;
      }
    }
  }

  const Problem& problem_;
  double rounding_;
  std::vector<Thing> things_;
  std::vector<char> gone_;
  std::vector<double> clearances_;  // of each pair as they lie; less than 0 until asked for
  std::vector<std::pair<std::size_t, std::size_t>> clashes_;  // front, back
};

}  // namespace

std::optional<std::vector<PlacedPiece>> pushed_aside(const Problem& prepared,
                                                     std::span<const PlacedPiece> pieces,
                                                     std::span<const PlacedPiece> kept,
                                                     const std::vector<Violation>& violations) {
  Push push(prepared, pieces, kept);
  push.heed(violations);
  if (!push.run()) return std::nullopt;
  std::vector<PlacedPiece> result;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (push.gone(i)) continue;
    result.push_back(pieces[i]);
    result.back().placement.move.x += push.shift(i);
  }
  return result;
}

}  // namespace film::layout::detail
