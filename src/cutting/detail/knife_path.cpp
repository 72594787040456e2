#include "cutting/detail/knife_path.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace film::cutting::detail {
namespace {

double distance_to_segment(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 ab = b - a;
  const double squared = squared_length(ab);
  const double t = squared > 0 ? std::clamp(dot(p - a, ab) / squared, 0.0, 1.0) : 0;
  return distance(p, a + t * ab);
}

/// Signed angle from unit vector a to unit vector b.
double turn_between(Vec2 a, Vec2 b) { return std::atan2(cross(a, b), dot(a, b)); }

Vec2 rotated(Vec2 v, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {c * v.x - s * v.y, s * v.x + c * v.y};
}

void go(Stroke& stroke, Vec2 to, Phase phase) {
  stroke.axis.push_back(to);
  stroke.phases.push_back(phase);
}

/// Swings the axis about the resting tip from one heading to another.
void swivel(Stroke& stroke, Vec2 tip, Vec2 from, Vec2 to, double offset, double threshold) {
  const double turn = turn_between(from, to);
  if (offset > 0 && std::abs(turn) > threshold) {
    const double widest = 2 * std::acos(std::max(0.0, 1 - kSwivelSagitta / offset));
    const auto steps = static_cast<int>(std::ceil(std::abs(turn) / widest));
    for (int k = 1; k < steps; ++k) {
      go(stroke, tip + offset * rotated(from, turn * k / steps), Phase::swivel);
    }
  }
  if (offset > 0) go(stroke, tip + offset * to, Phase::swivel);
}

}  // namespace

Polyline simplified(std::span<const Vec2> chain, double tolerance) {
  if (chain.size() < 3) return {chain.begin(), chain.end()};
  std::vector<char> kept(chain.size(), 0);
  kept.front() = kept.back() = 1;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, chain.size() - 1}};
  while (!open.empty()) {
    const auto [first, last] = open.back();
    open.pop_back();
    std::size_t worst = first;
    double most = tolerance;
    for (std::size_t i = first + 1; i < last; ++i) {
      const double d = distance_to_segment(chain[i], chain[first], chain[last]);
      if (d > most) {
        most = d;
        worst = i;
      }
    }
    if (worst == first) continue;
    kept[worst] = 1;
    open.push_back({first, worst});
    open.push_back({worst, last});
  }
  Polyline out;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    if (kept[i] != 0) out.push_back(chain[i]);
  }
  return out;
}

DragPath drag_path(std::span<const Vec2> drawn, std::size_t overcut, Vec2 heading,
                   const KnifeSettings& knife) {
  const double offset = knife.blade_offset.value;
  const double threshold = knife.corner_threshold.radians;
  DragPath path{{{drawn.front() + offset * heading}, {}}, heading};
  for (std::size_t i = 1; i < drawn.size(); ++i) {
    const double s = distance(drawn[i - 1], drawn[i]);
    if (s <= 0) continue;
    const Vec2 direction = (drawn[i] - drawn[i - 1]) / s;
    const bool nearly_straight =
        i > 1 && offset * distance(path.heading, direction) <= 2 * kSideStep;
    if (nearly_straight) {
      const Vec2 mean = path.heading + direction;
      path.stroke.axis.back() = drawn[i - 1] + (offset / length(mean)) * mean;
    } else {
      swivel(path.stroke, drawn[i - 1], path.heading, direction, offset, threshold);
    }
    const bool past_start = i + overcut >= drawn.size();
    go(path.stroke, drawn[i] + offset * direction, past_start ? Phase::overcut : Phase::cut);
    path.heading = direction;
  }
  return path;
}

std::vector<Stroke> tangential_strokes(std::span<const Vec2> drawn, std::size_t overcut,
                                       const KnifeSettings& knife) {
  std::vector<Stroke> strokes{{{drawn.front()}, {}}};
  Vec2 heading{};
  for (std::size_t i = 1; i < drawn.size(); ++i) {
    const double s = distance(drawn[i - 1], drawn[i]);
    if (s <= 0) continue;
    const Vec2 direction = (drawn[i] - drawn[i - 1]) / s;
    const bool corner = strokes.back().axis.size() > 1 &&
                        std::abs(turn_between(heading, direction)) > knife.corner_threshold.radians;
    if (corner) strokes.push_back({{drawn[i - 1]}, {}});
    const bool past_start = i + overcut >= drawn.size();
    go(strokes.back(), drawn[i], past_start ? Phase::overcut : Phase::cut);
    heading = direction;
  }
  return strokes;
}

}  // namespace film::cutting::detail
