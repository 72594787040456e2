#include "surface/detail/newton.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include <Eigen/SparseCholesky>

#include "base/assert.h"
#include "surface/detail/block_matrix.h"
#include "surface/detail/multigrid.h"

namespace film::surface::detail {
namespace {

/// How closely the multigrid solver solves for a step; Newton's method mends the rest.
constexpr double kSolveTolerance = 2e-2;

/// Smallest step > 0 along `move` at which the triangle loses its area; infinity if none.
double step_to_flip(Vec2 a, Vec2 b, Vec2 da, Vec2 db) {
  const double c = cross(a, b);
  const double linear = cross(da, b) + cross(a, db);
  const double square = cross(da, db);
  const double discriminant = linear * linear - 4 * square * c;
  constexpr double kNever = std::numeric_limits<double>::infinity();
  if (discriminant < 0) return kNever;
  const double q = -0.5 * (linear + std::copysign(std::sqrt(discriminant), linear));
  double least = kNever;
  if (square != 0 && q / square > 0) least = q / square;
  if (q != 0 && c / q > 0) least = std::min(least, c / q);
  return least;
}

}  // namespace

struct Minimiser::Parts {
  Parts(std::span<const Triangle> t, std::span<const RestShape> s, std::size_t vertices,
        std::span<const Coarsening> coarser)
      : triangles(t), shapes(s), matrix(t, s, vertices) {
    if (coarser.empty()) {
      solver.analyzePattern(matrix.values);
    } else {
      multigrid.emplace(coarser);
    }
    for (const RestShape& shape : shapes) area += shape.area;
  }

  [[nodiscard]] Mat2 map(std::size_t t, std::span<const Vec2> flat) const {
    const Triangle& c = triangles[t];
    return shapes[t].map(flat[c[0]], flat[c[1]], flat[c[2]]);
  }

  /// The Newton step at `flat`; nothing when the matrix could not be solved with.
  std::optional<Eigen::VectorXd> direction(std::span<const Vec2> flat, const Energy& energy,
                                           std::span<const char> held) {
    matrix.assemble(flat, energy);
    if (!held.empty()) matrix.hold(held);
    Eigen::VectorXd result;
    if (multigrid) {
      if (!multigrid->assemble(flat, energy)) return std::nullopt;
      result = multigrid->solve(matrix, -matrix.gradient, kSolveTolerance);
    } else {
      solver.factorize(matrix.values);
      if (solver.info() != Eigen::Success) return std::nullopt;
      result = solver.solve(-matrix.gradient);
    }
    if (!result.allFinite()) return std::nullopt;
    return result;
  }

  [[nodiscard]] double total(std::span<const Vec2> flat, const Energy& energy) const {
    double sum = 0;
    for (std::size_t t = 0; t < triangles.size(); ++t) {
      const Mat2 j = map(t, flat);
      if (!(j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0) > 0)) {
        return std::numeric_limits<double>::infinity();
      }
      sum += shapes[t].area * (energy.value(j) - energy.least());
    }
    return sum;
  }

  [[nodiscard]] double greatest_step(std::span<const Vec2> flat, std::span<const Vec2> move) const {
    double least = std::numeric_limits<double>::infinity();
    for (const Triangle& t : triangles) {
      least = std::min(least, step_to_flip(flat[t[1]] - flat[t[0]], flat[t[2]] - flat[t[0]],
                                           move[t[1]] - move[t[0]], move[t[2]] - move[t[0]]));
    }
    return least;
  }

  std::span<const Triangle> triangles;
  std::span<const RestShape> shapes;
  BlockMatrix matrix;
  double area = 0;
  Eigen::SimplicialLDLT<Sparse, Eigen::Lower> solver;
  std::optional<Multigrid> multigrid;
};

Minimiser::Minimiser(std::span<const Triangle> triangles, std::span<const RestShape> shapes,
                     std::size_t vertex_count, std::span<const Coarsening> coarser)
    : parts_(std::make_unique<Parts>(triangles, shapes, vertex_count, coarser)) {}
Minimiser::~Minimiser() = default;
Minimiser::Minimiser(Minimiser&&) noexcept = default;
Minimiser& Minimiser::operator=(Minimiser&&) noexcept = default;

double Minimiser::total(std::span<const Vec2> flat, const Energy& energy) const {
  return parts_->total(flat, energy);
}

Result<NewtonOutcome> Minimiser::run(std::vector<Vec2>& flat, const Energy& energy,
                                     const NewtonGoal& goal, const Context& context) {
  FILM_ASSERT(2 * static_cast<Eigen::Index>(flat.size()) == parts_->matrix.gradient.size());
  FILM_ASSERT(goal.held.empty() || (goal.held.size() == flat.size() && !parts_->multigrid));
  NewtonOutcome outcome;
  std::vector<Vec2> move(flat.size());
  std::vector<Vec2> trial(flat.size());
  double energy_now = parts_->total(flat, energy);
  std::size_t idle = 0;
  double slope_before = 0;
  while (outcome.steps < goal.greatest_steps) {
    if (context.stopped()) return fail(ErrorCode::cancelled, "stopped while flattening");
    const auto direction = parts_->direction(flat, energy, goal.held);
    if (!direction) return outcome;
    const double slope = parts_->matrix.gradient.dot(*direction);
    for (std::size_t v = 0; v < flat.size(); ++v) {
      const auto i = 2 * static_cast<Eigen::Index>(v);
      move[v] = {(*direction)[i], (*direction)[i + 1]};
    }
    ++outcome.steps;
    const double share = goal.exponential ? std::clamp(-slope / energy_now, 0.0, 0.999) : 0.0;
    double step = std::min(1 / (1 - share), 0.9 * parts_->greatest_step(flat, move));
    // Near the minimum the gain drowns in rounding: there a full step is taken on trust.
    const double noise = 1e-13 * energy_now + 1e-15 * parts_->area * (energy.least() + 1e-12);
    bool moved = false;
    for (int halving = 0; halving < 40; ++halving, step /= 2) {
      for (std::size_t v = 0; v < flat.size(); ++v) trial[v] = flat[v] + step * move[v];
      const double energy_then = parts_->total(trial, energy);
      const double wanted = goal.exponential
                                ? energy_now * std::exp(1e-4 * step * slope / energy_now)
                                : energy_now + 1e-4 * step * slope + noise;
      if (energy_then <= wanted && (!goal.admissible || goal.admissible(trial))) {
        idle = energy_then < energy_now * (1 - 1e-12) ? 0 : idle + 1;
        energy_now = energy_then;
        moved = true;
        break;
      }
    }
    if (!moved) return outcome;
    flat.swap(trial);
    // Strains of 1e-12 are beyond what coordinates in double precision can hold.
    const double floor = 1e-25 * parts_->area;
    // Full steps square the gain that is left, so the next one can be told beforehand.
    const double next = step >= 1 && slope_before < 0 ? slope * (slope / slope_before) : slope;
    slope_before = slope;
    if (-next <= std::max(goal.tolerance * energy_now, floor) || idle >= 2) {
      outcome.converged = true;
      return outcome;
    }
  }
  return outcome;
}

}  // namespace film::surface::detail
