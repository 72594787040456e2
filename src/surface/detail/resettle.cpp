#include "surface/detail/resettle.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include <Eigen/SparseCholesky>

#include "surface/detail/block_matrix.h"
#include "surface/detail/hierarchy.h"
#include "surface/detail/multigrid.h"
#include "surface/detail/newton.h"
#include "surface/detail/rest_shape.h"
#include "surface/detail/start.h"

namespace film::surface::detail {
namespace {

using Vector = Eigen::VectorXd;

/// The coarse mesh on which the film first settles, in triangles. Below twice that the surface
/// itself is quick enough.
constexpr std::size_t kCoarse = 1800;
constexpr std::size_t kCoarseSteps = 12;
/// The coarse film may hold so many times the fine film's energy before it counts as another film.
constexpr double kAlike = 3;
/// A coarse step that gains less than this share of the gain so far is the last.
constexpr double kCoarseGain = 0.02;
/// How closely multigrid solves for a step.
constexpr double kSolveTolerance = 0.35;

/// The film at one resolution.
struct Film {
  Film(const TriMesh& m, const Energy& e)
      : mesh(m), energy(e), shapes(rest_shapes(m)), matrix(m.triangles, shapes, m.points.size()) {}

  [[nodiscard]] double total(std::span<const Vec2> flat) const {
    double sum = 0;
    for (std::size_t t = 0; t < shapes.size(); ++t) {
      const Triangle& c = mesh.triangles[t];
      const Mat2 j = shapes[t].map(flat[c[0]], flat[c[1]], flat[c[2]]);
      if (!(j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0) > 0)) {
        return std::numeric_limits<double>::infinity();
      }
      sum += shapes[t].area * (energy.value(j) - energy.least());
    }
    return sum;
  }

  [[nodiscard]] Vector gradient(std::span<const Vec2> flat) const {
    Vector result = Vector::Zero(2 * static_cast<Eigen::Index>(flat.size()));
    for (std::size_t t = 0; t < shapes.size(); ++t) {
      const Triangle& c = mesh.triangles[t];
      const RestShape& s = shapes[t];
      const Mat2 g = s.area * energy.gradient(s.map(flat[c[0]], flat[c[1]], flat[c[2]]));
      const Eigen::Vector2d f1 = g * Eigen::Vector2d(s.g1x, s.g1y);
      const Eigen::Vector2d f2 = g * Eigen::Vector2d(s.g2x, s.g2y);
      result.segment<2>(2 * static_cast<Eigen::Index>(c[1])) += f1;
      result.segment<2>(2 * static_cast<Eigen::Index>(c[2])) += f2;
      result.segment<2>(2 * static_cast<Eigen::Index>(c[0])) -= f1 + f2;
    }
    return result;
  }

  const TriMesh& mesh;
  const Energy& energy;
  std::vector<RestShape> shapes;
  BlockMatrix matrix;
};

std::vector<Vec2> moved(std::span<const Vec2> from, double step, const Vector& move) {
  std::vector<Vec2> to(from.begin(), from.end());
  for (std::size_t v = 0; v < to.size(); ++v) {
    const auto i = 2 * static_cast<Eigen::Index>(v);
    to[v] += step * Vec2{move[i], move[i + 1]};
  }
  return to;
}

/// How far the coarse film moves under its energy less `tilt` dot the move.
Vector coarse_move(Film& film, std::span<const Vec2> start, const Vector& tilt,
                   const Context& context) {
  Eigen::SimplicialLDLT<Sparse, Eigen::Lower> factor;
  factor.analyzePattern(film.matrix.values);
  Vector sum = Vector::Zero(tilt.size());
  std::vector<Vec2> flat(start.begin(), start.end());
  double now = film.total(flat);
  const double at_start = now;
  for (std::size_t i = 0; i < kCoarseSteps && !context.stopped(); ++i) {
    film.matrix.assemble(flat, film.energy);
    factor.factorize(film.matrix.values);
    if (factor.info() != Eigen::Success) break;
    const Vector slope = film.matrix.gradient - tilt;
    const Vector move = factor.solve(-slope);
    const double expected = -slope.dot(move);
    double step = 1;
    double then = std::numeric_limits<double>::infinity();
    std::vector<Vec2> trial;
    for (int halving = 0; halving < 12; ++halving, step /= 2) {
      trial = moved(flat, step, move);
      then = film.total(trial) - tilt.dot(sum + step * move);
      if (then <= now - 1e-4 * step * expected) break;
    }
    if (!(then < now)) break;
    flat = std::move(trial);
    sum += step * move;
    const double gain = now - then;
    now = then;
    if (gain < kCoarseGain * (at_start - now)) break;
  }
  return sum;
}

class Settling {
 public:
  Settling(const CutSurface& cut, std::span<const Vec2> before, const Energy& energy,
           const Context& context)
      : context_(context) {
    both(
        [&] {
          film_.emplace(cut.mesh, energy);
          flat_ = carried(cut, before);
          now_ = film_->total(flat_);
          if (is_large(cut.mesh)) force_ = film_->gradient(flat_);
        },
        [&] { coarsen_down(cut.mesh); });
  }

  Result<Resettled> run(double tolerance, std::size_t greatest_steps) {
    Eigen::SimplicialLDLT<Sparse, Eigen::Lower> factor;
    std::optional<Multigrid> multigrid;
    if (steps_.empty()) {
      factor.analyzePattern(film_->matrix.values);
    } else {
      both([&] { leap(); }, [&] { multigrid.emplace(steps_); });
    }
    std::size_t taken = 0;
    while (taken < greatest_steps) {
      if (context_.stopped()) return fail(ErrorCode::cancelled, "stopped while trying a cut");
      Vector move;
      if (multigrid) {
        bool solvable = false;
        both([&] { film_->matrix.assemble(flat_, film_->energy); },
             [&] { solvable = multigrid->assemble(flat_, film_->energy); });
        if (!solvable) break;
        move = multigrid->solve(film_->matrix, -film_->matrix.gradient, kSolveTolerance);
      } else {
        film_->matrix.assemble(flat_, film_->energy);
        factor.factorize(film_->matrix.values);
        if (factor.info() != Eigen::Success) break;
        move = factor.solve(-film_->matrix.gradient);
      }
      ++taken;
      const double gain = try_move(move, -film_->matrix.gradient.dot(move));
      if (!(gain > tolerance * now_)) break;
    }
    return Resettled{std::move(flat_), now_, taken};
  }

 private:
  /// Two independent parts of the work, side by side when there are threads for it.
  template <class First, class Second>
  void both(const First& first, const Second& second) {
    context_.executor().run(2, [&](std::size_t part) { part == 0 ? first() : second(); });
  }

  static bool is_large(const TriMesh& mesh) { return mesh.triangles.size() >= 2 * kCoarse; }

  void coarsen_down(const TriMesh& surface) {
    const TriMesh* mesh = &surface;
    steps_.reserve(64);
    if (!is_large(surface)) return;
    while (mesh->triangles.size() > kCoarse && steps_.size() < 64) {
      Coarsening step = coarsen(*mesh);
      if (step.removed.size() < mesh->points.size() / 20) break;
      steps_.push_back(std::move(step));
      mesh = &steps_.back().coarse;
    }
  }

  /// Moves as far along as the energy falls; the gain.
  double try_move(const Vector& move, double expected) {
    double step = 1;
    for (int halving = 0; halving < 20; ++halving, step /= 2) {
      std::vector<Vec2> trial = moved(flat_, step, move);
      const double then = film_->total(trial);
      if (!(then <= now_ - 1e-4 * step * expected)) continue;
      const double gain = now_ - then;
      flat_ = std::move(trial);
      now_ = then;
      return gain;
    }
    return 0;
  }

  void leap() {
    std::vector<Vec2> start = flat_;
    Vector force = std::move(force_);
    for (const Coarsening& step : steps_) {
      start = kept_of(step, start);
      force = restricted(step, std::move(force));
    }
    Film coarse(steps_.back().coarse, film_->energy);
    // Where the surface bends sharply the coarse mesh is another surface.
    if (!(coarse.total(start) < kAlike * now_)) return;
    const Vector tilt = coarse.gradient(start) - force;
    Vector move = coarse_move(coarse, start, tilt, context_);
    for (std::size_t k = steps_.size(); k-- > 0;) move = prolonged(steps_[k], move);
    try_move(move, 0);
  }

  const Context& context_;
  std::optional<Film> film_;
  std::vector<Coarsening> steps_;
  std::vector<Vec2> flat_;
  double now_ = 0;  // energy as it lies
  Vector force_;    // gradient at the start, of a large surface
};

}  // namespace

Result<Resettled> resettle(const CutSurface& cut, std::span<const Vec2> before,
                           const Energy& energy, double tolerance, std::size_t greatest_steps,
                           const Context& context) {
  return Settling(cut, before, energy, context).run(tolerance, greatest_steps);
}

}  // namespace film::surface::detail
