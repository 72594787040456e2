#include "cutting/detail/alignment.h"

#include <algorithm>
#include <cmath>

namespace film::cutting::detail {
namespace {

// A leg of 8 offsets leaves e^-8 of the tangent of half the blade's error: below 0.04 degrees
// after a right angle.
constexpr double kLegOffsets = 8;
constexpr double kSearchStep = 5;  // mm

bool segment_meets(const Box& box, Vec2 a, Vec2 b) {
  // Clips the segment by the four sides of the box.
  double low = 0;
  double high = 1;
  const auto clip = [&](double from, double along, double least, double most) {
    if (along == 0) return from >= least && from <= most;
    const double t0 = (least - from) / along;
    const double t1 = (most - from) / along;
    low = std::max(low, std::min(t0, t1));
    high = std::min(high, std::max(t0, t1));
    return low <= high;
  };
  return clip(a.x, b.x - a.x, box.low.x, box.high.x) && clip(a.y, b.y - a.y, box.low.y, box.high.y);
}

}  // namespace

bool lies_in(const Box& box, const Line& line) {
  if (!box.touches(line.box)) return false;
  const std::size_t n = line.points.size();
  const std::size_t sides = is_open(line.kind) ? n - 1 : n;
  for (std::size_t i = 0; i < sides; ++i) {
    if (segment_meets(box, line.points[i], line.points[(i + 1) % n])) return true;
  }
  return line.kind == ContourKind::outline &&
         side_of(std::span(line.points), box.low) != Side::outside;
}

std::optional<Polyline> alignment_stroke(const std::vector<Line>& lines, const Box& media,
                                         double blade_offset) {
  const double leg = kLegOffsets * blade_offset;
  // The tip may be one offset away from the axis on any side.
  const Vec2 size{leg + 3 * blade_offset, 2 * leg + 3 * blade_offset};
  const Vec2 inset = 1.5 * Vec2{blade_offset, blade_offset};
  for (double x = media.low.x; x + size.x <= media.high.x; x += kSearchStep) {
    for (double y = media.low.y; y + size.y <= media.high.y; y += kSearchStep) {
      const Box spot{{x, y}, Vec2{x, y} + size};
      if (std::any_of(lines.begin(), lines.end(),
                      [&](const Line& l) { return lies_in(spot, l); })) {
        continue;
      }
      const Vec2 p = spot.low + inset;
      return Polyline{p, p + Vec2{0, leg}, p + Vec2{leg, leg}, p + Vec2{leg, 2 * leg}};
    }
  }
  return std::nullopt;
}

}  // namespace film::cutting::detail
