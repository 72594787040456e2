#include "digitise/detail/trace.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "digitise/detail/light.h"

namespace film::digitise::detail {
namespace {

Vec2 unit(Vec2 v) { return v / std::max(length(v), 1e-12); }

/// Points a step apart along a closed ring.
Ring even_steps(const Ring& ring, double step) {
  const double round = perimeter(ring);
  const auto count = std::max<std::size_t>(16, static_cast<std::size_t>(round / step));
  const double each = round / static_cast<double>(count);
  Ring even;
  double before = 0;
  for (std::size_t i = 0; i < ring.size() && even.size() < count; ++i) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[(i + 1) % ring.size()];
    const double side = distance(a, b);
    while (even.size() < count && static_cast<double>(even.size()) * each <= before + side) {
      const double t = (static_cast<double>(even.size()) * each - before) / std::max(side, 1e-12);
      even.push_back(a + std::min(t, 1.0) * (b - a));
    }
    before += side;
  }
  return even;
}

/// A ring of evenly spaced points, looked at by arc length in steps.
struct Walk {
  const Ring& ring;
  [[nodiscard]] Vec2 at(std::ptrdiff_t i) const {
    const auto n = static_cast<std::ptrdiff_t>(ring.size());
    return ring[static_cast<std::size_t>(((i % n) + n) % n)];
  }
};

/// One point of a ring and what was found across it.
struct Measured {
  Vec2 from;
  Vec2 normal;        ///< to the left of the ring
  double offset = 0;  ///< of the edge along the normal, mm
  bool found = false;
  double width = 0;  ///< px
};

/// Measures each point across the line through neighbours `span` steps away.
std::vector<Measured> measure(const GreyRaster& photo, const Camera& camera, const Ring& ring,
                              double height, int span, double reach, double breadth) {
  std::vector<Measured> points;
  const Walk walk{ring};
  for (std::ptrdiff_t i = 0; i < static_cast<std::ptrdiff_t>(ring.size()); ++i) {
    const Vec2 along = unit(walk.at(i + span) - walk.at(i - span));
    Measured m{walk.at(i), left_of(along)};
    const Eigen::Matrix2d map = slope(camera, m.from, height);
    const Eigen::Vector2d in_photo = map * Eigen::Vector2d(along.x, along.y);
    const Vec2 across = left_of(unit({in_photo.x(), in_photo.y()}));
    const auto edge = find_edge(photo, camera.seen(m.from, height), across, reach, breadth);
    if (edge && std::abs(edge->offset) < reach) {
      const Vec2 off = edge->offset * across;
      const Eigen::Vector2d moved = map.inverse() * Eigen::Vector2d(off.x, off.y);
      m.offset = dot({moved.x(), moved.y()}, m.normal);
      m.found = true;
      m.width = edge->width;
    }
    points.push_back(m);
  }
  return points;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// The ring where it was measured. A point that was not found, or `most` mm off from what its
/// neighbours say, goes with them and counts as missed.
Ring moved(std::vector<Measured>& points, double most) {
  const auto n = static_cast<std::ptrdiff_t>(points.size());
  Ring ring;
  for (std::ptrdiff_t i = 0; i < n; ++i) {
    Measured& m = points[static_cast<std::size_t>(i)];
    std::vector<double> offsets;
    for (std::ptrdiff_t k = -5; k <= 5; ++k) {
      const Measured& q = points[static_cast<std::size_t>((i + k + n) % n)];
      if (k != 0 && q.found) offsets.push_back(q.offset);
    }
    const double usual = offsets.empty() ? 0 : median(std::move(offsets));
    const bool kept = m.found && std::abs(m.offset - usual) < most;
    ring.push_back(m.from + (kept ? m.offset : usual) * m.normal);
    if (!kept) m.width = 0;
  }
  return ring;
}

/// The line nearest to points [from, to) of the walk, in its direction.
struct Line {
  Vec2 through;
  Vec2 along;
  double off = 0;  ///< root mean square distance of the points
};

Line line_through(const Walk& walk, std::ptrdiff_t from, std::ptrdiff_t to) {
  Vec2 middle;
  const auto n = static_cast<double>(to - from);
  for (std::ptrdiff_t i = from; i < to; ++i) middle += walk.at(i) / n;
  double xx = 0, xy = 0, yy = 0;
  for (std::ptrdiff_t i = from; i < to; ++i) {
    const Vec2 d = walk.at(i) - middle;
    xx += d.x * d.x;
    xy += d.x * d.y;
    yy += d.y * d.y;
  }
  const double angle = 0.5 * std::atan2(2 * xy, xx - yy);
  Vec2 along{std::cos(angle), std::sin(angle)};
  if (dot(along, walk.at(to - 1) - walk.at(from)) < 0) along = -along;
  const double least = 0.5 * (xx + yy - std::hypot(xx - yy, 2 * xy));
  return {middle, along, std::sqrt(std::max(0.0, least) / n)};
}

constexpr double kNear = 1.4;       // mm: a corner blurs what is nearer
constexpr double kFar = 6;          // mm: sides count as straight this far
constexpr double kSharpTurn = 0.4;  // radians between the sides, 23 degrees
constexpr double kMostGap = 0.8;    // mm between a sharp corner and the ring that was seen

struct Corner {
  std::ptrdiff_t at;
  Vec2 place;
  double off = 0;  ///< of the points of both sides from their lines, mm
};

/// The corner near point i if its two sides meet there.
std::optional<Corner> sharp_corner(const Walk& walk, std::ptrdiff_t i, std::ptrdiff_t near,
                                   std::ptrdiff_t far) {
  const Line a = line_through(walk, i - far, i - near + 1);
  const Line b = line_through(walk, i + near, i + far + 1);
  const double turn = cross(a.along, b.along);
  if (std::abs(std::atan2(turn, dot(a.along, b.along))) < kSharpTurn) return std::nullopt;
  const double t = cross(b.through - a.through, b.along) / turn;
  const Vec2 corner = a.through + t * a.along;
  if (distance(corner, walk.at(i)) > kMostGap + 1.5) return std::nullopt;
  double gap = 1e9;
  for (std::ptrdiff_t k = i - near; k <= i + near; ++k) {
    gap = std::min(gap, distance(corner, walk.at(k)));
  }
  if (gap > kMostGap) return std::nullopt;
  return Corner{i, corner, a.off + b.off};
}

std::vector<Corner> sharp_corners(const Ring& ring, double step) {
  const Walk walk{ring};
  const auto n = static_cast<std::ptrdiff_t>(ring.size());
  const auto near = std::max<std::ptrdiff_t>(1, std::lround(kNear / step));
  const auto far = std::max<std::ptrdiff_t>(near + 2, std::lround(kFar / step));
  if (n < 4 * far) return {};
  std::vector<double> turns(ring.size());
  for (std::ptrdiff_t i = 0; i < n; ++i) {
    const Vec2 a = walk.at(i - near) - walk.at(i - far);
    const Vec2 b = walk.at(i + far) - walk.at(i + near);
    turns[static_cast<std::size_t>(i)] = std::abs(std::atan2(cross(a, b), dot(a, b)));
  }
  std::vector<Corner> corners;
  for (std::ptrdiff_t i = 0; i < n; ++i) {
    const double turn = turns[static_cast<std::size_t>(i)];
    if (turn < kSharpTurn) continue;
    bool most = true;
    for (std::ptrdiff_t k = -far; k <= far && most; ++k) {
      const double other = turns[static_cast<std::size_t>((i + k + n) % n)];
      most = other < turn || (other == turn && k >= 0);
    }
    if (!most) continue;
    // The turn is about as large while the corner lies anywhere between the windows; neither side
    // reaches round it where their points lie straightest.
    std::optional<Corner> best;
    for (std::ptrdiff_t k = i - near; k <= i + near; ++k) {
      const auto corner = sharp_corner(walk, k, near, far);
      if (corner && (!best || corner->off < best->off)) best = corner;
    }
    if (best) corners.push_back(*best);
  }
  return corners;
}

/// The ring with each corner in place of the blurred points round it.
void put_corners(const Ring& ring, const std::vector<Corner>& corners, Traced& traced) {
  const auto n = static_cast<std::ptrdiff_t>(ring.size());
  const Walk walk{ring};
  std::vector<bool> left_out(ring.size(), false);
  std::vector<const Corner*> put(ring.size(), nullptr);
  for (const Corner& corner : corners) {
    std::ptrdiff_t nearest = corner.at;
    const auto off = [&](std::ptrdiff_t i) { return distance(walk.at(i), corner.place); };
    for (std::ptrdiff_t k = -6; k <= 6; ++k) {
      if (off(corner.at + k) < off(nearest)) nearest = corner.at + k;
    }
    for (const std::ptrdiff_t way : {-1, 1}) {
      for (std::ptrdiff_t k = 1; k < n / 4 && off(nearest + way * k) < kNear; ++k) {
        left_out[static_cast<std::size_t>((nearest + way * k + n) % n)] = true;
      }
    }
    put[static_cast<std::size_t>((nearest + n) % n)] = &corner;
  }
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (put[i] != nullptr) {
      traced.corners.push_back(traced.ring.size());
      traced.ring.push_back(put[i]->place);
    } else if (!left_out[i]) {
      traced.ring.push_back(ring[i]);
    }
  }
}

/// How far to look across an edge, px, to see past its blur and no more noise than that.
double short_reach(const std::vector<Measured>& points) {
  std::vector<double> widths;
  for (const Measured& m : points) {
    if (m.width > 0) widths.push_back(m.width);
  }
  return widths.empty() ? 5 : std::clamp(0.5 + 1.3 * median(std::move(widths)), 2.5, 5.0);
}

}  // namespace

Traced trace(const GreyRaster& photo, const Camera& camera, const Ring& rough, double height,
             double pixel) {
  Traced traced;
  const double step = std::max(0.7, 2 * pixel);
  // First over a wide line, for the rough ring is off by up to a square of the plan view.
  Ring ring = even_steps(rough, step);
  const int wide = std::max(2, static_cast<int>(std::lround(2 / step)));
  auto points = measure(photo, camera, ring, height, wide, std::clamp(3 / pixel, 5.0, 14.0), 1);
  // Then across the ring as it is now known, over a short line and some breadth.
  ring = even_steps(moved(points, 1.0), step);
  const int narrow = std::max(1, static_cast<int>(std::lround(1.5 / step)));
  points = measure(photo, camera, ring, height, narrow, short_reach(points),
                   std::max(1.0, step / pixel));
  ring = even_steps(moved(points, 0.4), step);
  std::vector<double> widths;
  for (const Measured& m : points) {
    if (m.width > 0) widths.push_back(m.width * pixel);
  }
  traced.missed = 1 - static_cast<double>(widths.size()) / static_cast<double>(points.size());
  if (widths.empty()) return traced;
  traced.width = median(std::move(widths));
  put_corners(ring, sharp_corners(ring, step), traced);
  return traced;
}

}  // namespace film::digitise::detail
