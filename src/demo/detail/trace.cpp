#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/assert.h"
#include "demo/detail/sheet.h"

namespace film::demo {

Vec3 gradient(const Field& field, Vec3 p) {
  constexpr double h = 0.01;
  return Vec3{field({p.x + h, p.y, p.z}) - field({p.x - h, p.y, p.z}),
              field({p.x, p.y + h, p.z}) - field({p.x, p.y - h, p.z}),
              field({p.x, p.y, p.z + h}) - field({p.x, p.y, p.z - h})} /
         (2 * h);
}

Vec3 projected(const Field& field, Vec3 p) {
  for (int i = 0; i < 12; ++i) {
    const double f = field(p);
    if (std::fabs(f) < 1e-7) break;
    const Vec3 g = gradient(field, p);
    const Vec3 move = (-f / std::fmax(squared_length(g), 0.02)) * g;
    const double far = length(move);
    p += (far > 60 ? 60 / far : 1.0) * move;
  }
  return p;
}

namespace {

Vec3 unit(Vec3 v) { return v / std::fmax(length(v), 1e-12); }

/// Follows the edges of a region of the skin.
class Tracer {
 public:
  Tracer(const Field& skin, const std::vector<Cut>& cuts, Vec3 inside, double step)
      : skin_(skin), cuts_(cuts), step_(step), start_(projected(skin, inside)) {
    for (const Cut& cut : cuts) sign_.push_back(cut.side(start_) >= 0 ? 1.0 : -1.0);
  }

  TracedLoop run() {
    std::size_t on = 0;
    Vec3 p = reach_edge(on);
    const Vec3 first = p;
    const std::size_t first_cut = on;
    std::vector<Vec3> points{first};
    std::vector<std::size_t> corner_at, corner_cut;
    double travelled = 0;
    for (int i = 0; i < 20000; ++i) {
      const Vec3 next = along(p, on, step_);
      std::size_t met = on;
      const double part = first_met(p, on, next, met);
      if (met != on) {
        p = corner(along(p, on, part * step_), on, met);
        corner_at.push_back(points.size());
        corner_cut.push_back(met);
        points.push_back(p);
        on = met;
        continue;
      }
      travelled += step_;
      p = next;
      if (on == first_cut && travelled > 3 * step_ && distance(p, first) < 0.9 * step_ &&
          (!corner_at.empty() || cuts_.size() == 1 || travelled > 12 * step_)) {
        return from_first_corner(points, corner_at, corner_cut, first_cut);
      }
      points.push_back(p);
    }
    return {};
  }

 private:
  /// Distance along the skin from the panel's edge at cut c, positive on the panel.
  double inside_of(std::size_t c, Vec3 p, Vec3* slope = nullptr) const {
    const Vec3 n = unit(gradient(skin_, p));
    const Vec3 g = gradient(cuts_[c].side, p);
    const Vec3 along_skin = g - dot(g, n) * n;
    const double steep = std::fmax(length(along_skin), 1e-6);
    if (slope != nullptr) *slope = (sign_[c] / steep) * along_skin;
    return sign_[c] * cuts_[c].side(p) / steep - cuts_[c].half_gap;
  }

  Vec3 on_edge(Vec3 p, std::size_t c) const {
    for (int i = 0; i < 6; ++i) {
      p = projected(skin_, p);
      Vec3 slope;
      const double off = inside_of(c, p, &slope);
      if (std::fabs(off) < 1e-6) break;
      p += std::clamp(-off, -20.0, 20.0) * slope;
    }
    return projected(skin_, p);
  }

  Vec3 along(Vec3 p, std::size_t c, double step) const {
    Vec3 slope;
    inside_of(c, p, &slope);
    const Vec3 forward = unit(cross(slope, unit(gradient(skin_, p))));
    return on_edge(p + step * forward, c);
  }

  /// The cut first crossed between p and next, as the part of the way; `met` stays `on` if none.
  double first_met(Vec3 p, std::size_t on, Vec3 next, std::size_t& met) const {
    double least = 2;
    for (std::size_t c = 0; c < cuts_.size(); ++c) {
      if (c == on) continue;
      const double after = inside_of(c, next);
      if (after >= 0) continue;
      const double before = inside_of(c, p);
      if (before < after + 1e-9) continue;  // leaving the corner with it
      const double part = std::clamp(before / (before - after), 0.0, 1.0);
      if (part < least) {
        least = part;
        met = c;
      }
    }
    return least;
  }

  Vec3 corner(Vec3 p, std::size_t a, std::size_t b) const {
    for (int i = 0; i < 30; ++i) {
      Vec3 sa, sb;
      const double fa = inside_of(a, p, &sa), fb = inside_of(b, p, &sb);
      if (std::fabs(fa) < 1e-6 && std::fabs(fb) < 1e-6) break;
      // Least move in the tangent plane that makes both zero.
      const double ab = dot(sa, sb), det = std::fmax(1 - ab * ab, 1e-3);
      const double ka = (-fa + ab * fb) / det, kb = (-fb + ab * fa) / det;
      Vec3 move = ka * sa + kb * sb;
      const double far = length(move);
      if (far > step_) move = (step_ / far) * move;
      p = projected(skin_, p + move);
    }
    return p;
  }

  /// Walks from the inside to an edge.
  Vec3 reach_edge(std::size_t& on) const {
    Vec3 p = start_;
    for (int i = 0; i < 5000; ++i) {
      double least = 1e9;
      Vec3 slope, best;
      for (std::size_t c = 0; c < cuts_.size(); ++c) {
        const double in = inside_of(c, p, &slope);
        if (in < least) {
          least = in;
          on = c;
          best = slope;
        }
      }
      if (least < 0.5 * step_) return on_edge(p, on);
      p = projected(skin_, p - std::fmin(step_, least) * best);
    }
    return p;
  }

  static TracedLoop from_first_corner(const std::vector<Vec3>& points,
                                      const std::vector<std::size_t>& corner_at,
                                      const std::vector<std::size_t>& corner_cut,
                                      std::size_t first_cut) {
    TracedLoop loop;
    if (corner_at.empty()) return {points, {0}, {first_cut}};
    const std::size_t n = points.size(), shift = corner_at.front();
    for (std::size_t i = 0; i < n; ++i) loop.points.push_back(points[(i + shift) % n]);
    for (std::size_t k = 0; k < corner_at.size(); ++k) {
      loop.first.push_back(corner_at[k] - shift);
      loop.cut.push_back(corner_cut[k]);
    }
    return loop;
  }

  const Field& skin_;
  const std::vector<Cut>& cuts_;
  double step_;
  Vec3 start_;
  std::vector<double> sign_;
};

/// Replaces each corner by a curve that leaves both edges smoothly; the stretch starts in its
/// middle. Keeps point counts, so that indices stay.
void round_corners(const Field& skin, TracedLoop& loop, double radius) {
  const std::size_t n = loop.points.size(), stretches = loop.first.size();
  if (stretches < 2 || radius <= 0) return;
  const std::vector<Vec3> sharp = loop.points;
  std::vector<double> length_of(stretches, 0.0);
  for (std::size_t k = 0; k < stretches; ++k) {
    const std::size_t end = k + 1 < stretches ? loop.first[k + 1] : n;
    for (std::size_t i = loop.first[k]; i < end; ++i) {
      length_of[k] += distance(sharp[i], sharp[(i + 1) % n]);
    }
  }
  for (std::size_t k = 0; k < stretches; ++k) {
    const std::size_t at = loop.first[k], before = (k + stretches - 1) % stretches;
    const Vec3 c = sharp[at];
    const Vec3 in = unit(c - sharp[(at + n - 1) % n]), out = unit(sharp[(at + 1) % n] - c);
    const double half_turn = 0.5 * std::acos(std::clamp(dot(in, out), -1.0, 1.0));
    if (half_turn < 0.12) continue;
    const double reach = std::fmin(radius * std::tan(std::fmin(half_turn, 1.2)),
                                   0.4 * std::fmin(length_of[k], length_of[before]));
    std::vector<std::size_t> inward{at}, outward{at};
    double way = 0;
    for (std::size_t i = at; way < reach;) {
      const std::size_t j = (i + n - 1) % n;
      way += distance(sharp[i], sharp[j]);
      inward.push_back(i = j);
    }
    way = 0;
    for (std::size_t i = at; way < reach;) {
      const std::size_t j = (i + 1) % n;
      way += distance(sharp[i], sharp[j]);
      outward.push_back(i = j);
    }
    const Vec3 p0 = sharp[inward.back()], p2 = sharp[outward.back()];
    const auto bezier = [&](double t) {
      const Vec3 q = (1 - t) * (1 - t) * p0 + (2 * t * (1 - t)) * c + (t * t) * p2;
      return projected(skin, q);
    };
    for (std::size_t i = 0; i + 1 < inward.size(); ++i) {
      loop.points[inward[i]] =
          bezier(0.5 - 0.5 * static_cast<double>(i) / static_cast<double>(inward.size() - 1));
    }
    for (std::size_t i = 1; i + 1 < outward.size(); ++i) {
      loop.points[outward[i]] =
          bezier(0.5 + 0.5 * static_cast<double>(i) / static_cast<double>(outward.size() - 1));
    }
  }
}

/// Thins the points of each stretch to what length and turn ask for.
TracedLoop thinned(const Field& skin, const TracedLoop& fine, const TraceOptions& options) {
  TracedLoop loop;
  loop.cut = fine.cut;
  const std::size_t n = fine.points.size();
  for (std::size_t k = 0; k < fine.first.size(); ++k) {
    const std::size_t begin = fine.first[k];
    const std::size_t end = k + 1 < fine.first.size() ? fine.first[k + 1] : n;
    std::vector<double> weight{0};  // in points
    for (std::size_t i = begin; i < end; ++i) {
      const Vec3 a = fine.points[(i + n - 1) % n], b = fine.points[i], c = fine.points[(i + 1) % n],
                 d = fine.points[(i + 2) % n];
      const auto turn = [](Vec3 x, Vec3 y) {
        return std::acos(std::clamp(dot(unit(x), unit(y)), -1.0, 1.0));
      };
      const double bend =
          0.5 * ((i == begin ? 0 : turn(b - a, c - b)) + (i + 1 == end ? 0 : turn(c - b, d - c)));
      weight.push_back(weight.back() +
                       std::fmax(distance(b, c) / options.edge, bend / options.turn));
    }
    const bool whole = fine.first.size() == 1;
    const auto pieces =
        static_cast<std::size_t>(std::fmax(whole ? 8.0 : 2.0, std::ceil(weight.back())));
    loop.first.push_back(loop.points.size());
    std::size_t i = 0;
    for (std::size_t j = 0; j < pieces; ++j) {
      const double target = weight.back() * static_cast<double>(j) / static_cast<double>(pieces);
      while (i + 2 < weight.size() && weight[i + 1] <= target) ++i;
      const double t = (target - weight[i]) / std::fmax(weight[i + 1] - weight[i], 1e-12);
      const Vec3 b = fine.points[begin + i], c = fine.points[(begin + i + 1) % n];
      loop.points.push_back(projected(skin, b + t * (c - b)));
    }
  }
  return loop;
}

}  // namespace

TracedLoop trace(const Field& skin, const std::vector<Cut>& cuts, Vec3 inside,
                 const TraceOptions& options) {
  TracedLoop loop = Tracer(skin, cuts, inside, options.step).run();
  if (loop.points.empty()) return loop;
  round_corners(skin, loop, options.corner);
  return thinned(skin, loop, options);
}

}  // namespace film::demo
