#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <unordered_map>
#include <utility>
#include <vector>

#include "cutting/machine_frame.h"
#include "cutting/plan.h"
#include "formats/hpgl.h"

/// What a real blade does with a plot file: a simulation that shares no code with the planner.
namespace film::test {

/// Where the tip went during one stroke with the knife down.
using TipPath = Polyline;

/// A blade whose tip trails `offset` mm behind the holder's axis and can only move the way it
/// points. While the axis moves by ds in direction phi, the blade's heading theta obeys the
/// caster equation d(theta)/ds = sin(phi - theta) / offset. Integrated here with Runge-Kutta steps
/// of at most `step` mm. A raised blade keeps its heading.
/// Source: the equation is that of a trailer drawn by its hitch, elementary planar kinematics.
class Blade {
 public:
  Blade(double offset, double heading, double step = 0.01)
      : offset_(offset), heading_(heading), step_(step) {}

  /// Replays a plot file; one tip path for each stroke with the knife down, roll frame.
  std::vector<TipPath> replay(const formats::HpglPlot& plot, const cutting::MachineFrame& frame) {
    std::vector<TipPath> tips;
    for (const formats::HpglStroke& stroke : plot.strokes) {
      if (!stroke.down) continue;
      Vec2 axis = frame.to_roll(stroke.points.front());
      TipPath tip{tip_at(axis)};
      for (const formats::HpglPoint point : stroke.points) {
        const Vec2 next = frame.to_roll(point);
        drag(axis, next, tip);
        axis = next;
      }
      tips.push_back(std::move(tip));
    }
    return tips;
  }

 private:
  [[nodiscard]] Vec2 tip_at(Vec2 axis) const {
    return axis - offset_ * Vec2{std::cos(heading_), std::sin(heading_)};
  }

  void drag(Vec2 from, Vec2 to, TipPath& tip) {
    const double whole = distance(from, to);
    if (whole <= 0) return;
    const double phi = std::atan2(to.y - from.y, to.x - from.x);
    const auto steps = static_cast<int>(std::ceil(whole / step_));
    const double h = whole / steps;
    for (int k = 1; k <= steps; ++k) {
      if (offset_ > 0) {
        const auto slope = [&](double theta) { return std::sin(phi - theta) / offset_; };
        const double k1 = slope(heading_);
        const double k2 = slope(heading_ + h / 2 * k1);
        const double k3 = slope(heading_ + h / 2 * k2);
        const double k4 = slope(heading_ + h * k3);
        heading_ += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
      }
      tip.push_back(tip_at(from + (h * k / whole) * (to - from)));
    }
  }

  double offset_;
  double heading_;
  double step_;
};

/// Segments found by place, for nearest distances up to the size of a cell.
class SegmentGrid {
 public:
  explicit SegmentGrid(double cell) : cell_(cell) {}

  void add(std::span<const Vec2> chain, bool closed) {
    const std::size_t n = chain.size();
    for (std::size_t i = 0; i + (closed ? 0 : 1) < n; ++i) add(chain[i], chain[(i + 1) % n]);
  }

  /// Distance to the nearest segment; infinity when it is further than a cell.
  [[nodiscard]] double distance_to(Vec2 p) const {
    double least = std::numeric_limits<double>::infinity();
    for (long dx = -1; dx <= 1; ++dx) {
      for (long dy = -1; dy <= 1; ++dy) {
        const auto found = cells_.find(key(index(p.x) + dx, index(p.y) + dy));
        if (found == cells_.end()) continue;
        for (const auto& [a, b] : found->second) least = std::min(least, apart(p, a, b));
      }
    }
    return least <= cell_ ? least : std::numeric_limits<double>::infinity();
  }

 private:
  static double apart(Vec2 p, Vec2 a, Vec2 b) {
    const double squared = squared_length(b - a);
    const double t = squared > 0 ? std::clamp(dot(p - a, b - a) / squared, 0.0, 1.0) : 0;
    return distance(p, a + t * (b - a));
  }
  [[nodiscard]] long index(double x) const { return std::lround(std::floor(x / cell_)); }
  static long key(long i, long j) { return i * 1'000'003 + j; }

  void add(Vec2 a, Vec2 b) {
    // Every cell that the segment passes, by samples half a cell apart.
    const int samples = static_cast<int>(std::ceil(2 * distance(a, b) / cell_)) + 1;
    long last = std::numeric_limits<long>::min();
    for (int k = 0; k <= samples; ++k) {
      const Vec2 p = a + (static_cast<double>(k) / samples) * (b - a);
      const long cell = key(index(p.x), index(p.y));
      if (cell != last) cells_[cell].push_back({a, b});
      last = cell;
    }
  }

  double cell_;
  std::unordered_map<long, std::vector<std::pair<Vec2, Vec2>>> cells_;
};

/// How well a cut agrees with what was drawn.
struct CutQuality {
  double stray = 0;  ///< mm, furthest that the tip was from every drawn line while cutting
  double uncut = 0;  ///< mm, furthest that a point of a drawn line is from every tip path
  double open = 0;   ///< mm, furthest that a closed contour's tip path ends before its own start
};

/// Replays the bytes with a blade of the given offset and initial heading and compares the tip with
/// the shapes as they were drawn. Alignment strokes are not judged.
inline CutQuality judge(const std::string& bytes, const cutting::CutJob& job,
                        const cutting::CutPlan& plan, const cutting::MachineProfile& profile,
                        double offset, double heading, double sample = 0.05) {
  const auto plot = formats::read_hpgl(bytes);
  if (!plot) return {1e9, 1e9, 1e9};
  const cutting::MachineFrame frame(profile, plan.media);
  auto tips = Blade(offset, heading, std::min(0.02, sample)).replay(*plot, frame);
  if (!plan.alignment.axis.empty() && !tips.empty()) tips.erase(tips.begin());
  constexpr double kCell = 3;  // mm; anything further off is as bad as this
  const auto bounded = [](double d) { return std::fmin(d, kCell); };

  SegmentGrid drawn(kCell);
  SegmentGrid cut(kCell);
  for (const cutting::Shape& shape : job.shapes) {
    drawn.add(shape.outline.outer, true);
    for (const Ring& hole : shape.outline.holes) drawn.add(hole, true);
    for (const Polyline& slit : shape.slits) drawn.add(slit, false);
  }
  CutQuality quality;
  for (const TipPath& tip : tips) {
    Polyline thinned;
    for (const Vec2 p : tip) {
      if (thinned.empty() || distance(thinned.back(), p) >= sample / 2) thinned.push_back(p);
    }
    thinned.push_back(tip.back());
    for (const Vec2 p : thinned)
      quality.stray = std::max(quality.stray, bounded(drawn.distance_to(p)));
    cut.add(thinned, false);
  }
  const auto look = [&](std::span<const Vec2> chain, bool closed) {
    for (std::size_t i = 0; i + (closed ? 0 : 1) < chain.size(); ++i) {
      const Vec2 a = chain[i];
      const Vec2 b = chain[(i + 1) % chain.size()];
      const int samples = static_cast<int>(std::ceil(distance(a, b) / sample));
      for (int k = 0; k <= samples; ++k) {
        const double t = samples > 0 ? static_cast<double>(k) / samples : 0;
        quality.uncut = std::max(quality.uncut, bounded(cut.distance_to(a + t * (b - a))));
      }
    }
  };
  for (const cutting::Shape& shape : job.shapes) {
    look(shape.outline.outer, true);
    for (const Ring& hole : shape.outline.holes) look(hole, true);
    for (const Polyline& slit : shape.slits) look(slit, false);
  }
  // A contour closes when its tip comes by its own first point again near the end.
  std::size_t k = 0;
  for (const cutting::Contour& contour : plan.contours) {
    if (contour.strokes.size() != 1 || k >= tips.size()) break;
    const TipPath& tip = tips[k++];
    if (contour.kind == cutting::ContourKind::slit) continue;
    double least = kCell;
    for (std::size_t i = tip.size() / 2; i < tip.size(); ++i) {
      least = std::min(least, distance(tip[i], tip.front()));
    }
    quality.open = std::max(quality.open, least);
  }
  return quality;
}

}  // namespace film::test
