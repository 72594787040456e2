#include "surface/flatten.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <span>

#include "base/text.h"
#include "geometry/box.h"
#include "surface/detail/energy.h"
#include "surface/detail/hierarchy.h"
#include "surface/detail/newton.h"
#include "surface/detail/overlap.h"
#include "surface/detail/rest_shape.h"
#include "surface/detail/start.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

using detail::Mat2;
using detail::NewtonGoal;
using detail::NewtonOutcome;
using detail::RestShape;

/// Evening out ends when it would gain less than this share of the log ratio.
constexpr double kLeastGain = 1e-4;

/// Coarsening ends at so many triangles; the first shape is found there.
constexpr std::size_t kCoarsest = 4000;
/// Above so many triangles steps are solved for by multigrid, below by factorisation.
constexpr std::size_t kMultigrid = 40000;
/// Past this the flat shape is upright only in name.
constexpr double kGreatestStretch = 1e6;
/// A guarded run may creep along a contact; it ends after so many steps on a level.
constexpr std::size_t kGuardedSteps = 100;
/// Levels solved on differ by at least this factor.
constexpr std::size_t kLevelRatio = 5;

/// In-plane direction of `grain` on each triangle, brought to the flat film and averaged by area.
std::optional<Vec2> grain_on_film(const TriMesh& surface, std::span<const RestShape> shapes,
                                  std::span<const Vec2> flat, Vec3 grain) {
  Vec2 sum;
  for (std::size_t t = 0; t < surface.triangles.size(); ++t) {
    const Triangle& c = surface.triangles[t];
    const Vec3 a = surface.points[c[1]] - surface.points[c[0]];
    const Vec3 b = surface.points[c[2]] - surface.points[c[0]];
    const Vec3 x = a / length(a);
    const Vec3 n = cross(a, b);
    const Vec3 y = cross(n / length(n), x);
    const Mat2 j = shapes[t].map(flat[c[0]], flat[c[1]], flat[c[2]]);
    const Eigen::Vector2d on_film = j * Eigen::Vector2d(dot(grain, x), dot(grain, y));
    sum += shapes[t].area * Vec2{on_film.x(), on_film.y()};
  }
  if (!(length(sum) > 1e-9 * length(grain) * surface_area(surface))) return std::nullopt;
  return sum / length(sum);
}

/// The direction of the greatest spread of the area.
Vec2 long_direction(const TriMesh& surface, std::span<const RestShape> shapes,
                    std::span<const Vec2> flat) {
  Vec2 centre;
  double area = 0;
  const auto middle = [&](const Triangle& c) {
    return (flat[c[0]] + flat[c[1]] + flat[c[2]]) / 3.0;
  };
  for (std::size_t t = 0; t < shapes.size(); ++t) {
    centre += shapes[t].area * middle(surface.triangles[t]);
    area += shapes[t].area;
  }
  centre = centre / area;
  double xx = 0;
  double xy = 0;
  double yy = 0;
  for (std::size_t t = 0; t < shapes.size(); ++t) {
    const Vec2 d = middle(surface.triangles[t]) - centre;
    xx += shapes[t].area * d.x * d.x;
    xy += shapes[t].area * d.x * d.y;
    yy += shapes[t].area * d.y * d.y;
  }
  const double angle = 0.5 * std::atan2(2 * xy, xx - yy);
  return {std::cos(angle), std::sin(angle)};
}

/// The surface at one resolution, with what solving on it reuses.
struct Level {
  Level(const TriMesh& mesh, std::span<const detail::Coarsening> coarser)
      : surface(mesh),
        shapes(detail::rest_shapes(mesh)),
        minimiser(mesh.triangles, shapes, mesh.points.size(), coarser) {}

  [[nodiscard]] StretchRange stretch_range(std::span<const Vec2> flat) const {
    double least = std::numeric_limits<double>::infinity();
    double greatest = 0;
    for (std::size_t t = 0; t < shapes.size(); ++t) {
      const Triangle& c = surface.triangles[t];
      const auto s = detail::svd(shapes[t].map(flat[c[0]], flat[c[1]], flat[c[2]]));
      least = std::min(least, s.s2);
      greatest = std::max(greatest, s.s1);
    }
    return {1 / greatest, 1 / least, std::log(greatest / least)};
  }

  [[nodiscard]] std::vector<std::vector<VertexIndex>> loops() const {
    return detail::loops_of(surface.triangles,
                            detail::sides_across(surface.triangles, surface.points.size()));
  }

  const TriMesh& surface;
  std::vector<RestShape> shapes;
  detail::Minimiser minimiser;
};

/// Whether steps that make the boundary meet itself are refused. A free run is better where the
/// best shape does not overlap, which is nearly always.
enum class Guard { off, on };

class Flattener {
 public:
  Flattener(const TriMesh& surface, const FlattenOptions& options, const Context& context)
      : surface_(surface), options_(options), context_(context) {}

  Result<Flattening> run() {
    coarsen();
    for (const Guard guard : {Guard::off, Guard::on}) {
      guard_ = guard;
      if (auto step = lay_flat(); !step) return Failure(step.error());
      Flattening result = measured();
      if (!(result.stretch.max < kGreatestStretch && result.stretch.min > 1 / kGreatestStretch)) {
        return fail(ErrorCode::unsupported,
                    "every flat shape found squashes a part of the surface to nothing", {},
                    "Look for spikes or folds in the mesh, or cut the surface into parts");
      }
      if (result.flips == 0 && result.boundary_crossings == 0) return result;
    }
    return fail(ErrorCode::unsupported, "the flat piece would overlap itself", {},
                "Cut the surface into parts that lie apart");
  }

 private:
  void coarsen() {
    const TriMesh* mesh = &surface_;
    steps_.reserve(64);
    while (mesh->triangles.size() > kCoarsest && steps_.size() < 64) {
      detail::Coarsening step = detail::coarsen(*mesh);
      if (step.removed.size() < mesh->points.size() / 20) break;
      steps_.push_back(std::move(step));
      mesh = &steps_.back().coarse;
    }
  }

  /// From the coarsest level to the surface itself.
  Result<void> lay_flat() {
    const TriMesh& coarsest = steps_.empty() ? surface_ : steps_.back().coarse;
    auto start = detail::flip_free_start(
        coarsest, detail::sides_across(coarsest.triangles, coarsest.points.size()));
    if (!start) {
      return fail(ErrorCode::unsupported, "no flat shape without folds was found", {},
                  "Cut the surface where it narrows, and flatten the parts");
    }
    flat_ = std::move(*start);
    first_power_ = 4;
    std::size_t solved_on = 0;  // triangles of the last level solved on
    for (std::size_t depth = steps_.size() + 1; depth-- > 0;) {
      const TriMesh& mesh = depth == 0 ? surface_ : steps_[depth - 1].coarse;
      if (depth < steps_.size()) flat_ = detail::refine(mesh, steps_[depth], flat_);
      const bool worth = mesh.triangles.size() > kLevelRatio * solved_on;
      if (depth > 0 && !worth) continue;
      Level level(mesh, multigrid_pays(mesh) ? std::span(steps_).subspan(depth)
                                             : std::span<const detail::Coarsening>());
      if (auto step = solve(level, solved_on == 0, depth == 0); !step) return step;
      solved_on = mesh.triangles.size();
    }
    return {};
  }

  /// High powers differ so much from triangle to triangle that multigrid fails on them.
  [[nodiscard]] bool multigrid_pays(const TriMesh& mesh) const {
    const bool smooth = options_.mode == Mode::neutral || options_.mode == Mode::least_energy;
    return smooth && mesh.triangles.size() > kMultigrid;
  }

  /// One level: first of all the neutral shape, then what the mode asks for.
  Result<void> solve(Level& level, bool coarsest, bool finest) {
    const double loose = finest ? 1 : 1e4;
    if (coarsest || options_.mode == Mode::neutral) {
      if (auto step = minimise(level, detail::SymmetricDirichlet(), 1e-7 * loose, "laying flat");
          !step) {
        return step;
      }
      align(level);
    }
    switch (options_.mode) {
      case Mode::neutral: return {};
      case Mode::least_energy:
        return minimise(level, detail::FilmEnergy(options_.film), 1e-8 * loose,
                        "letting the film settle");
      case Mode::no_compression:
      case Mode::least_ratio: break;
    }
    auto evened = even_out(level, finest);
    if (evened && finest) {
      align(level);
      const StretchRange range = level.stretch_range(flat_);
      const double factor = options_.mode == Mode::no_compression
                                ? range.min * (1 - 1e-12)
                                : std::sqrt(range.min * range.max);
      for (Vec2& p : flat_) p = factor * p;
    }
    return evened;
  }

  [[nodiscard]] NewtonGoal goal_of(const Level& level, double tolerance,
                                   std::size_t greatest_steps) const {
    NewtonGoal goal{tolerance, greatest_steps};
    if (guard_ == Guard::off) return goal;
    goal.greatest_steps = std::min(greatest_steps, kGuardedSteps);
    goal.admissible = [loops = level.loops()](std::span<const Vec2> flat) {
      return detail::boundary_meetings(loops, flat).empty();
    };
    return goal;
  }

  Result<void> minimise(Level& level, const detail::Energy& energy, double tolerance,
                        std::string_view stage) {
    context_.report(stage, -1);
    auto outcome = level.minimiser.run(
        flat_, energy, goal_of(level, tolerance, options_.greatest_iterations), context_);
    if (!outcome) return Failure(outcome.error());
    iterations_ += outcome->steps;
    return {};
  }

  /// Makes greatest over least stretch small: the mean of the p-th powers, p doubling, tends to the
  /// maximum.
  Result<void> even_out(Level& level, bool finest) {
    StretchRange best = level.stretch_range(flat_);
    std::vector<Vec2> best_flat = flat_;
    const double greatest_power = finest ? 3e6 : 5000;
    for (double p = first_power_; p < greatest_power; p *= 2) {
      const StretchRange now = level.stretch_range(flat_);
      // Centre the logs of the stretches, so that both ends count alike.
      const double log_scale = (std::log(now.max) + std::log(now.min)) / 2;
      const detail::PowerBound energy(p, log_scale, now.log_ratio_max / 2);
      context_.report("evening out the stretch", std::log2(p) / 22);
      NewtonGoal goal = goal_of(level, 0.1, 60);
      goal.exponential = true;
      auto outcome = level.minimiser.run(flat_, energy, goal, context_);
      if (!outcome) return Failure(outcome.error());
      iterations_ += outcome->steps;
      const StretchRange then = level.stretch_range(flat_);
      const double gain = best.log_ratio_max - then.log_ratio_max;
      if (gain > 0) {
        best = then;
        best_flat = flat_;
      }
      // The excess over the limit halves from power to power, so what is left is about the gain.
      if (p > 4 * first_power_ && p > 1000 && gain < kLeastGain * best.log_ratio_max) break;
      if (best.log_ratio_max < 1e-10) break;
    }
    flat_ = std::move(best_flat);
    first_power_ = 256;  // refining roughens the shape: some of the way must be gone again
    return {};
  }

  void align(const Level& level) {
    std::optional<Vec2> along;
    if (options_.grain) along = grain_on_film(level.surface, level.shapes, flat_, *options_.grain);
    const Vec2 x = along ? *along : long_direction(level.surface, level.shapes, flat_);
    for (Vec2& p : flat_) p = {dot(x, p), cross(x, p)};
  }

  Flattening measured() {
    const Box box = bounding_box(flat_);
    for (Vec2& p : flat_) p -= box.low;
    detail::part_lips(
        detail::loops_of(surface_.triangles,
                         detail::sides_across(surface_.triangles, surface_.points.size())),
        flat_);
    Flattening result = measure(surface_, std::move(flat_));
    result.iterations = iterations_;
    return result;
  }

  const TriMesh& surface_;
  const FlattenOptions& options_;
  const Context& context_;
  std::vector<detail::Coarsening> steps_;  // [k] leads from level k to level k + 1
  std::vector<Vec2> flat_;                 // on the level at hand
  std::size_t iterations_ = 0;
  double first_power_ = 4;
  Guard guard_ = Guard::off;
};

}  // namespace

Flattening measure(const TriMesh& surface, std::vector<Vec2> flat) {
  Flattening result;
  const auto shapes = detail::rest_shapes(surface);
  const auto loops = detail::loops_of(
      surface.triangles, detail::sides_across(surface.triangles, surface.points.size()));
  result.flips = detail::count_flips(surface.triangles, flat);
  result.boundary_crossings = detail::boundary_meetings(loops, flat).size();
  const detail::SymmetricDirichlet dirichlet;
  double excess = 0;
  double area = 0;
  double least = std::numeric_limits<double>::infinity();
  double greatest = 0;
  for (std::size_t t = 0; t < shapes.size(); ++t) {
    const Triangle& c = surface.triangles[t];
    const Mat2 j = shapes[t].map(flat[c[0]], flat[c[1]], flat[c[2]]);
    const auto s = detail::svd(j);
    excess += shapes[t].area * (dirichlet.value(j) - 4);
    area += shapes[t].area;
    least = std::min(least, s.s2);
    greatest = std::max(greatest, s.s1);
  }
  result.sd_mean = 4 + excess / area;
  result.stretch = {1 / greatest, 1 / least, std::log(greatest / least)};
  result.flat = std::move(flat);
  return result;
}

Result<Flattening> flatten(const TriMesh& surface, const FlattenOptions& options,
                           const Context& context) {
  if (surface.triangles.empty()) return fail(ErrorCode::invalid_input, "the surface is empty");
  return Flattener(surface, options, context).run();
}

}  // namespace film::surface
