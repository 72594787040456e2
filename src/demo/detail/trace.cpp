#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/assert.h"
#include "demo/detail/sheet.h"

namespace film::demo {

namespace {
constexpr double kDifference = 1e-3;  // mm; second differences then stay below 1e-4 of a slope
}

Vec3 gradient(const Field& field, Vec3 p, double value) {
  constexpr double h = kDifference;
  return Vec3{field({p.x + h, p.y, p.z}) - value, field({p.x, p.y + h, p.z}) - value,
              field({p.x, p.y, p.z + h}) - value} /
         h;
}

Vec3 gradient(const Field& field, Vec3 p) { return gradient(field, p, field(p)); }

Vec3 projected(const Field& field, Vec3 p) {
  for (int i = 0; i < 12; ++i) {
    const double f = field(p);
    if (std::fabs(f) < 1e-6) break;
    const Vec3 g = gradient(field, p, f);
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
    Spot here = reach_edge(on);
    const Vec3 first = here.p;
    const std::size_t first_cut = on;
    std::vector<Vec3> points{first};
    std::vector<std::size_t> corner_at, corner_cut;
    std::vector<double> in = inside_all(here), next_in;
    double travelled = 0;
    for (int i = 0; i < 20000; ++i) {
      const Spot next = along(here, on, step_);
      next_in = inside_all(next);
      const auto [met, part] = first_met(in, next_in, on);
      if (met != on) {
        here = corner(along(here, on, part * step_), on, met);
        corner_at.push_back(points.size());
        corner_cut.push_back(met);
        points.push_back(here.p);
        on = met;
        in = inside_all(here);
        continue;
      }
      travelled += step_;
      here = next;
      in = next_in;
      const bool may_close = on == first_cut && travelled > (corner_at.empty() ? 12 : 3) * step_;
      if (may_close && distance(here.p, first) < 0.9 * step_) {
        return from_first_corner(points, corner_at, corner_cut, first_cut);
      }
      points.push_back(here.p);
    }
    return {};
  }

 private:
  /// A point of the skin with its normal.
  struct Spot {
    Vec3 p, normal;
  };

  Spot spot(Vec3 p) const { return {p, unit(gradient(skin_, p))}; }

  /// Distance along the skin from the panel's edge at cut c, positive on the panel, and the
  /// direction in which it grows.
  double inside_of(std::size_t c, const Spot& at, Vec3& slope) const {
    const double side = cuts_[c].side(at.p);
    const Vec3 g = gradient(cuts_[c].side, at.p, side);
    const Vec3 along_skin = g - dot(g, at.normal) * at.normal;
    const double steep = std::fmax(length(along_skin), 1e-6);
    slope = (sign_[c] / steep) * along_skin;
    return sign_[c] * side / steep - cuts_[c].half_gap;
  }

  std::vector<double> inside_all(const Spot& at) const {
    std::vector<double> in(cuts_.size());
    for (std::size_t c = 0; c < cuts_.size(); ++c) {
      Vec3 slope;
      const double side = sign_[c] * cuts_[c].side(at.p);
      in[c] = side > 12 * step_ ? side : inside_of(c, at, slope);  // far is far enough
    }
    return in;
  }

  /// Moves a point onto the skin and onto the edge at cut c.
  Spot on_edge(Vec3 p, std::size_t c) const {
    Spot at{p, {}};
    for (int i = 0; i < 8; ++i) {
      const double f = skin_(at.p);
      const Vec3 g = gradient(skin_, at.p, f);
      const double steep = length(g);
      at.normal = g / std::fmax(steep, 1e-9);
      Vec3 slope;
      const double off = inside_of(c, at, slope);
      if (std::fabs(off) < 1e-5 && std::fabs(f) < 1e-5) break;
      at.p += std::clamp(-f / std::fmax(steep, 0.15), -20.0, 20.0) * at.normal +
              std::clamp(-off, -20.0, 20.0) * slope;
    }
    return at;
  }

  Spot along(const Spot& at, std::size_t c, double step) const {
    Vec3 slope;
    inside_of(c, at, slope);
    return on_edge(at.p + step * unit(cross(slope, at.normal)), c);
  }

  /// The cut first crossed on the way from a point to the next, and the part of the way; `on` if
  /// none is.
  std::pair<std::size_t, double> first_met(const std::vector<double>& before,
                                           const std::vector<double>& after, std::size_t on) const {
    std::pair<std::size_t, double> met{on, 2.0};
    for (std::size_t c = 0; c < cuts_.size(); ++c) {
      const bool leaving = before[c] < after[c] + 1e-9;  // the corner just passed
      if (c == on || after[c] >= 0 || leaving) continue;
      const double part = std::clamp(before[c] / (before[c] - after[c]), 0.0, 1.0);
      if (part < met.second) met = {c, part};
    }
    return met;
  }

  Spot corner(Spot at, std::size_t a, std::size_t b) const {
    for (int i = 0; i < 30; ++i) {
      Vec3 sa, sb;
      const double fa = inside_of(a, at, sa), fb = inside_of(b, at, sb);
      if (std::fabs(fa) < 1e-5 && std::fabs(fb) < 1e-5) break;
      // Least move in the tangent plane that makes both zero.
      const double ab = dot(sa, sb), det = std::fmax(1 - ab * ab, 1e-3);
      const double ka = (-fa + ab * fb) / det, kb = (-fb + ab * fa) / det;
      Vec3 move = ka * sa + kb * sb;
      const double far = length(move);
      if (far > step_) move = (step_ / far) * move;
      at = spot(projected(skin_, at.p + move));
    }
    return at;
  }

  /// Walks from the inside to an edge.
  Spot reach_edge(std::size_t& on) const {
    Spot at = spot(start_);
    for (int i = 0; i < 5000; ++i) {
      double least = 1e9;
      Vec3 slope, best;
      for (std::size_t c = 0; c < cuts_.size(); ++c) {
        const double in = inside_of(c, at, slope);
        if (in >= least) continue;
        least = in;
        on = c;
        best = slope;
      }
      if (least < 0.5 * step_) return on_edge(at.p, on);
      at = spot(projected(skin_, at.p - std::fmin(4 * step_, least) * best));
    }
    return at;
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

}  // namespace

TracedLoop thinned(const Field& skin, const TracedLoop& fine, const ThinOptions& options) {
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

TracedLoop trace(const Field& skin, const std::vector<Cut>& cuts, Vec3 inside,
                 const TraceOptions& options) {
  TracedLoop loop = Tracer(skin, cuts, inside, options.step).run();
  if (!loop.points.empty()) round_corners(skin, loop, options.corner);
  return loop;
}

}  // namespace film::demo
