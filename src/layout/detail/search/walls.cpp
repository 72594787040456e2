#include "layout/detail/search/walls.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace film::layout::detail {

void raise_wall(std::vector<Wall>& walls, const Wall& wall) {
  const auto own = std::find_if(walls.begin(), walls.end(),
                                [&](const Wall& w) { return w.owner == wall.owner; });
  if (own == walls.end()) {
    walls.push_back(wall);
  } else {
    *own = wall;
  }
}

Vec2 least_beyond(const std::vector<Wall>& walls, const Box& box, Vec2 from, double radius,
                  double tiny) {
  const auto beyond = [&](Vec2 p, double bound) {
    double sum = 0;
    for (const Wall& wall : walls) {
      const double d = dot(p - wall.at, wall.inward);
      if (d > tiny) sum += wall.weight * d;
      if (sum > bound) break;
    }
    return sum;
  };
  Vec2 best = from;
  double least = beyond(from, std::numeric_limits<double>::infinity());
  double way = 0;
  const auto offer = [&](Vec2 p) {
    const double far = squared_length(p - from);
    if (far > radius * radius) return;
    if (p.x < box.low.x - tiny || p.x > box.high.x + tiny || p.y < box.low.y - tiny ||
        p.y > box.high.y + tiny) {
      return;
    }
    p = {std::clamp(p.x, box.low.x, box.high.x), std::clamp(p.y, box.low.y, box.high.y)};
    const double value = beyond(p, least);
    if (value > least || (value == least && far >= way)) return;
    best = p;
    least = value;
    way = far;
  };
  struct Line {
    Vec2 at, normal;
  };
  std::array<Line, 20> lines;
  std::size_t count = 0;
  for (const Wall& wall : walls) {
    if (count + 4 == lines.size()) break;
    const double off = dot(from - wall.at, wall.inward);
    if (std::abs(off) > radius) continue;
    lines[count++] = {wall.at, wall.inward};
    offer(from - off * wall.inward);
  }
  if (from.x - box.low.x < radius) lines[count++] = {box.low, {1, 0}};
  if (box.high.x - from.x < radius) lines[count++] = {box.high, {1, 0}};
  if (from.y - box.low.y < radius) lines[count++] = {box.low, {0, 1}};
  if (box.high.y - from.y < radius) lines[count++] = {box.high, {0, 1}};
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t k = i + 1; k < count; ++k) {
      const double turn = cross(lines[i].normal, lines[k].normal);
      if (std::abs(turn) < 1e-6) continue;
      const double a = dot(lines[i].normal, lines[i].at - from);
      const double b = dot(lines[k].normal, lines[k].at - from);
      offer(from + Vec2{a * lines[k].normal.y - b * lines[i].normal.y,
                        b * lines[i].normal.x - a * lines[k].normal.x} /
                       turn);
    }
  }
  return best;
}

}  // namespace film::layout::detail
