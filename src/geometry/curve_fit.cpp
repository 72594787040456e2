#include "geometry/curve_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "base/assert.h"
#include "geometry/curves.h"
#include "geometry/simplify.h"

namespace film {
namespace {

using Cubic = CurvePath::Cubic;

constexpr double kEvenOut = 80;  // tolerances of length over which a direction is taken

Vec2 cubic_at(Vec2 p0, const Cubic& c, double t) {
  const double s = 1 - t;
  return s * s * s * p0 + 3 * s * s * t * c.p1 + 3 * s * t * t * c.p2 + t * t * t * c.end;
}

Vec2 unit(Vec2 v) {
  const double l = length(v);
  return l > 0 ? v / l : Vec2{1, 0};
}

/// Ends of a run whose directions are not free.
struct Ends {
  std::optional<Vec2> from;  ///< unit tangent at the start
  std::optional<Vec2> to;    ///< unit tangent at the end
};

/// Solves a symmetric system of up to four unknowns by Gauss's elimination; false when singular.
bool solve(std::array<std::array<double, 5>, 4>& rows, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) {
    std::size_t best = i;
    for (std::size_t k = i + 1; k < n; ++k) {
      if (std::abs(rows[k][i]) > std::abs(rows[best][i])) best = k;
    }
    std::swap(rows[i], rows[best]);
    if (!(std::abs(rows[i][i]) > 1e-12)) return false;
    for (std::size_t k = 0; k < n; ++k) {
      if (k == i) continue;
      const double factor = rows[k][i] / rows[i][i];
      for (std::size_t c = i; c < 5; ++c) rows[k][c] -= factor * rows[i][c];
    }
  }
  return true;
}

/// The cubic through the ends of the chain that is nearest in the mean, given a parameter for each
/// point. Unknowns: x and y of each inner control point, or its distance along a given tangent.
std::optional<Cubic> least_squares(std::span<const Vec2> chain, const std::vector<double>& t,
                                   const Ends& ends) {
  const Vec2 p0 = chain.front();
  const Vec2 p3 = chain.back();
  std::array<Vec2, 4> direction{};  // of each unknown
  std::array<bool, 4> is_first{};   // whether it moves p1 or p2
  std::size_t n = 0;
  const auto add = [&](Vec2 d, bool first) {
    direction[n] = d;
    is_first[n++] = first;
  };
  if (ends.from) {
    add(*ends.from, true);
  } else {
    add({1, 0}, true);
    add({0, 1}, true);
  }
  if (ends.to) {
    add(-*ends.to, false);
  } else {
    add({1, 0}, false);
    add({0, 1}, false);
  }
  std::array<std::array<double, 5>, 4> rows{};
  for (std::size_t i = 0; i < chain.size(); ++i) {
    const double u = t[i];
    const double s = 1 - u;
    const double b1 = 3 * s * s * u;
    const double b2 = 3 * s * u * u;
    const Vec2 rest = chain[i] - (s * s * s + b1) * p0 - (u * u * u + b2) * p3;
    for (std::size_t a = 0; a < n; ++a) {
      const double wa = is_first[a] ? b1 : b2;
      for (std::size_t b = 0; b < n; ++b) {
        rows[a][b] += wa * (is_first[b] ? b1 : b2) * dot(direction[a], direction[b]);
      }
      rows[a][4] += wa * dot(direction[a], rest);
    }
  }
  if (!solve(rows, n)) return std::nullopt;
  Cubic cubic{p0, p3, p3, false};
  for (std::size_t a = 0; a < n; ++a) {
    const double x = rows[a][4] / rows[a][a];
    (is_first[a] ? cubic.p1 : cubic.p2) += x * direction[a];
  }
  const double size = length(p3 - p0) + length(chain[chain.size() / 2] - p0);
  const bool turns_back = (ends.from && dot(cubic.p1 - p0, *ends.from) <= 1e-3 * size) ||
                          (ends.to && dot(p3 - cubic.p2, *ends.to) <= 1e-3 * size);
  if (turns_back || length(cubic.p1 - p0) > 3 * size || length(cubic.p2 - p3) > 3 * size) {
    return std::nullopt;
  }
  return cubic;
}

std::vector<double> chord_lengths(std::span<const Vec2> chain) {
  std::vector<double> t(chain.size(), 0);
  for (std::size_t i = 1; i < chain.size(); ++i) t[i] = t[i - 1] + distance(chain[i - 1], chain[i]);
  for (double& v : t) v /= std::max(t.back(), 1e-300);
  return t;
}

/// One step of Newton's method towards the nearest point, for each parameter.
void reparametrise(std::span<const Vec2> chain, const Cubic& c, std::vector<double>& t) {
  const Vec2 p0 = chain.front();
  for (std::size_t i = 1; i + 1 < t.size(); ++i) {
    const double u = t[i];
    const double s = 1 - u;
    const Vec2 d1 =
        3 * s * s * (c.p1 - p0) + 6 * s * u * (c.p2 - c.p1) + 3 * u * u * (c.end - c.p2);
    const Vec2 d2 = 6 * s * (c.p2 - 2 * c.p1 + p0) + 6 * u * (c.end - 2 * c.p2 + c.p1);
    const Vec2 off = cubic_at(p0, c, u) - chain[i];
    const double bottom = dot(d1, d1) + dot(off, d2);
    if (bottom > 0) t[i] = std::clamp(u - dot(off, d1) / bottom, t[i - 1], 1.0);
  }
}

/// Furthest that points of one chain lie from another that runs alongside, both from the same
/// start to the same end: a window of segments moves along.
double furthest(std::span<const Vec2> points, std::span<const Vec2> chain) {
  double worst = 0;
  std::size_t at = 0;
  for (const Vec2 p : points) {
    double nearest = distance_to_segment(p, chain[at], chain[at + 1]);
    std::size_t best = at;
    // Forward past segments that lie no nearer, as long as the way there is not long.
    for (std::size_t k = at + 1; k + 1 < chain.size() && k < at + 24; ++k) {
      const double d = distance_to_segment(p, chain[k], chain[k + 1]);
      if (d <= nearest) {
        nearest = d;
        best = k;
      }
    }
    at = best;
    worst = std::max(worst, nearest);
  }
  return worst;
}

struct Run {
  Cubic cubic;
  double worst = 0;
};

/// Deviation of the cubic from the chain, both ways, never told too small: what the chords that
/// stand for the cubic may hide is added (Wang's bound, as in append_cubic).
double deviation(std::span<const Vec2> chain, const Cubic& cubic) {
  const std::size_t steps = std::clamp<std::size_t>(2 * chain.size(), 32, 4000);
  const double bend = std::max(length(chain.front() - 2 * cubic.p1 + cubic.p2),
                               length(cubic.p1 - 2 * cubic.p2 + cubic.end));
  const double hidden = 0.75 * bend / static_cast<double>(steps * steps);
  Polyline curve{chain.front()};
  for (std::size_t k = 1; k <= steps; ++k) {
    curve.push_back(
        cubic_at(chain.front(), cubic, static_cast<double>(k) / static_cast<double>(steps)));
  }
  return std::max(furthest(chain, curve), furthest(curve, chain)) + hidden;
}

std::optional<Run> fit_run(std::span<const Vec2> chain, const Ends& ends, double tolerance) {
  if (chain.size() == 2) {
    const Vec2 third = (chain[1] - chain[0]) / 3;
    return Run{{chain[0] + third, chain[1] - third, chain[1], true}, 0};
  }
  std::vector<double> t = chord_lengths(chain);
  // Each turn brings the curve nearer by a quarter or so; a run that this will not save is left.
  constexpr int kTurns = 14;
  double most = tolerance / std::pow(0.7, kTurns);
  std::optional<Run> best;
  for (int turn = 0; turn < kTurns; ++turn, most *= 0.7) {
    const auto cubic = least_squares(chain, t, ends);
    if (!cubic) break;
    const double worst = deviation(chain, *cubic);
    if (!best || worst < best->worst) best = Run{*cubic, worst};
    if (best->worst <= tolerance || worst > most) break;
    reparametrise(chain, *cubic, t);
  }
  if (best && best->worst > tolerance) best.reset();
  return best;
}

std::optional<Run> straight_run(std::span<const Vec2> chain, double tolerance) {
  const std::array<Vec2, 2> line{chain.front(), chain.back()};
  const double worst = furthest(chain, line);
  if (worst > tolerance) return std::nullopt;
  const Vec2 third = (line[1] - line[0]) / 3;
  return Run{{line[0] + third, line[1] - third, line[1], true}, worst};
}

/// Direction of the chain at an inner point: that of a parabola through the points around it, over
/// a length that evens out noise of the tolerance's size.
std::optional<Vec2> direction_at(std::span<const Vec2> chain, std::size_t at, double over) {
  constexpr std::size_t kMost = 24;  // points to each side
  std::array<std::array<double, 5>, 4> along_x{};
  std::array<std::array<double, 5>, 4> along_y{};
  std::size_t count = 0;
  const auto add = [&](Vec2 p, double s) {
    const std::array<double, 3> powers{1, s, s * s};
    for (std::size_t a = 0; a < 3; ++a) {
      for (std::size_t b = 0; b < 3; ++b) {
        along_x[a][b] += powers[a] * powers[b];
        along_y[a][b] += powers[a] * powers[b];
      }
      along_x[a][4] += powers[a] * p.x;
      along_y[a][4] += powers[a] * p.y;
    }
    ++count;
  };
  add({}, 0);
  double s = 0;
  for (std::size_t k = at; k > 0 && at - k < kMost; --k) {
    s += distance(chain[k], chain[k - 1]);
    if (s > over && at - k >= 2) break;
    add(chain[k - 1] - chain[at], -s);
  }
  s = 0;
  for (std::size_t k = at; k + 1 < chain.size() && k - at < kMost; ++k) {
    s += distance(chain[k], chain[k + 1]);
    if (s > over && k - at >= 2) break;
    add(chain[k + 1] - chain[at], s);
  }
  if (count < 4 || !solve(along_x, 3) || !solve(along_y, 3)) return std::nullopt;
  const Vec2 slope{along_x[1][4] / along_x[1][1], along_y[1][4] / along_y[1][1]};
  if (!(length(slope) > 1e-9)) return std::nullopt;
  return unit(slope);
}

/// The longest run from the start of the chain: how many points it takes and its curve. With a
/// direction that leaves no room the run starts with a corner instead.
std::pair<std::size_t, Run> longest_run(std::span<const Vec2> chain, Ends ends, double tolerance) {
  const auto attempt = [&](std::size_t count) {
    const auto part = chain.first(count);
    if (count == chain.size()) return fit_run(part, ends, tolerance);
    // The end of a run knows its own direction worse than the points on both sides of it do, and
    // what it gets wrong the next run has to mend: a straight side would wave.
    if (const auto along = direction_at(chain, count - 1, kEvenOut * tolerance)) {
      if (auto run = fit_run(part, {ends.from, along}, tolerance)) return run;
    }
    return fit_run(part, {ends.from, std::nullopt}, tolerance);
  };
  std::size_t good = 0;
  Run run;
  std::size_t bad = chain.size() + 1;
  for (std::size_t count = std::min<std::size_t>(4, chain.size());;
       count = std::min(2 * count, chain.size())) {
    if (const auto fitted = attempt(count)) {
      good = count;
      run = *fitted;
      if (count == chain.size()) return {good, run};
    } else {
      bad = count;
      break;
    }
  }
  while (bad - good > std::max<std::size_t>(1, good / 32)) {
    const std::size_t count = good + (bad - good) / 2;
    if (count < 3) break;
    if (const auto fitted = attempt(count)) {
      good = count;
      run = *fitted;
    } else {
      bad = count;
    }
  }
  if (good == 0) return {2, *fit_run(chain.first(2), {}, tolerance)};
  return {good, run};
}

/// How many points a straight line takes from the start of the chain.
std::size_t longest_line(std::span<const Vec2> chain, double tolerance) {
  std::size_t good = 2;
  std::size_t step = std::min<std::size_t>(2, chain.size() - good);
  for (; step > 0; step = std::min(step, chain.size() - good)) {
    if (straight_run(chain.first(good + step), tolerance)) {
      good += step;
      step *= 2;
    } else {
      step /= 2;
    }
  }
  return good;
}

/// Appends the curves of one smooth stretch.
void fit_stretch(std::span<const Vec2> chain, Ends ends, double tolerance, CurveFit& fit) {
  constexpr double kNearlyAsFar = 0.8;
  constexpr double kSameWay = 0.01;  // radians: less than what an eye takes for a corner
  while (chain.size() >= 2) {
    auto [count, run] = longest_run(chain, ends, tolerance);
    // A line where a line does nearly as well.
    const std::size_t line = longest_line(chain, tolerance);
    const Vec2 along = unit(chain[line - 1] - chain[0]);
    if (static_cast<double>(line) >= kNearlyAsFar * static_cast<double>(count) &&
        (!ends.from || std::abs(cross(*ends.from, along)) < kSameWay)) {
      count = line;
      run = *straight_run(chain.first(line), tolerance);
    }
    fit.path.cubics.push_back(run.cubic);
    fit.worst = std::max(fit.worst, run.worst);
    ends.from = unit(run.cubic.end - run.cubic.p2);
    chain = chain.subspan(count - 1);
  }
}

}  // namespace

Ring flattened(const CurvePath& path, double tolerance) {
  Polyline chain{path.start};
  for (const Cubic& cubic : path.cubics) {
    if (cubic.straight) {
      chain.push_back(cubic.end);
    } else {
      append_cubic(chain, cubic.p1, cubic.p2, cubic.end, tolerance);
    }
  }
  Ring ring;
  for (const Vec2 p : chain) {
    if (ring.empty() || p != ring.back()) ring.push_back(p);
  }
  while (ring.size() > 1 && ring.back() == ring.front()) ring.pop_back();
  return ring;
}

CurveFit fit_curves(std::span<const Vec2> ring, std::span<const std::size_t> corners,
                    double tolerance) {
  FILM_ASSERT(ring.size() >= 3 && tolerance > 0);
  // The ring from its first corner, closed.
  const std::size_t first = corners.empty() ? 0 : corners.front();
  Polyline chain;
  chain.reserve(ring.size() + 1);
  for (std::size_t i = 0; i <= ring.size(); ++i) chain.push_back(ring[(first + i) % ring.size()]);
  const std::span<const Vec2> all(chain);

  CurveFit fit;
  fit.path.start = chain.front();
  if (corners.empty()) {
    const std::size_t half = all.size() / 2;
    Polyline across(all.begin() + static_cast<std::ptrdiff_t>(half), all.end() - 1);
    const std::size_t middle = across.size();
    across.insert(across.end(), all.begin(), all.begin() + static_cast<std::ptrdiff_t>(half));
    const std::optional<Vec2> along = direction_at(across, middle, kEvenOut * tolerance);
    fit_stretch(all.first(half + 1), {along, {}}, tolerance, fit);
    const Cubic& last = fit.path.cubics.back();
    fit_stretch(all.subspan(half), {unit(last.end - last.p2), along}, tolerance, fit);
    return fit;
  }
  for (std::size_t c = 0; c < corners.size(); ++c) {
    const std::size_t from = corners[c] - first;
    const std::size_t to = c + 1 < corners.size() ? corners[c + 1] - first : ring.size();
    if (corners.size() == 1) {
      const std::size_t half = (from + to) / 2;
      fit_stretch(all.subspan(from, half - from + 1), {}, tolerance, fit);
      const Cubic& last = fit.path.cubics.back();
      fit_stretch(all.subspan(half, to - half + 1), {unit(last.end - last.p2), {}}, tolerance, fit);
    } else {
      fit_stretch(all.subspan(from, to - from + 1), {}, tolerance, fit);
    }
  }
  return fit;
}

}  // namespace film
