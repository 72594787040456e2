#pragma once

#include <algorithm>
#include <limits>
#include <span>

#include "geometry/vec.h"

namespace film {

/// An axis-parallel rectangle. A default Box is empty: adding a point makes it that point.
struct Box {
  Vec2 low{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  Vec2 high{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};

  friend constexpr bool operator==(const Box&, const Box&) = default;

  [[nodiscard]] constexpr bool empty() const { return !(low.x <= high.x && low.y <= high.y); }
  [[nodiscard]] constexpr double width() const { return empty() ? 0 : high.x - low.x; }
  [[nodiscard]] constexpr double height() const { return empty() ? 0 : high.y - low.y; }
  [[nodiscard]] constexpr Vec2 centre() const { return 0.5 * (low + high); }

  constexpr void add(Vec2 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  constexpr void add(const Box& other) {
    if (other.empty()) return;
    add(other.low);
    add(other.high);
  }
  /// True when the closed boxes share a point.
  [[nodiscard]] constexpr bool touches(const Box& other) const {
    return low.x <= other.high.x && other.low.x <= high.x && low.y <= other.high.y &&
           other.low.y <= high.y;
  }
  [[nodiscard]] constexpr bool contains(Vec2 p) const {
    return low.x <= p.x && p.x <= high.x && low.y <= p.y && p.y <= high.y;
  }
};

inline Box bounding_box(std::span<const Vec2> points) {
  Box box;
  for (Vec2 p : points) box.add(p);
  return box;
}

}  // namespace film
