#include "surface/detail/newton.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <Eigen/SparseCholesky>

#include "base/assert.h"

namespace film::surface::detail {
namespace {

using Sparse = Eigen::SparseMatrix<double>;

/// Where the blocks of one triangle go in the matrix's values: three corners, then three sides.
struct Slots {
  std::array<int, 3> corner;  // of the corner's 2x2 diagonal block, in the corner's first column
  std::array<int, 3> first;   // of the side's off-diagonal block, first column
  std::array<int, 3> second;  // ... and second column
};

/// Lower triangle of a symmetric matrix of 2x2 blocks, one for each vertex and each edge.
struct BlockMatrix {
  Sparse values;
  std::vector<Slots> slots;
  std::vector<int> second_column;  // of each vertex: where its second column starts

  BlockMatrix(std::span<const Triangle> triangles, std::size_t vertex_count);
};

BlockMatrix::BlockMatrix(std::span<const Triangle> triangles, std::size_t vertex_count) {
  std::vector<int> start(vertex_count + 1, 0);
  for (const Triangle& t : triangles) {
    for (std::size_t k = 0; k < 3; ++k) ++start[std::min(t[k], t[(k + 1) % 3]) + 1];
  }
  for (std::size_t v = 0; v < vertex_count; ++v) start[v + 1] += start[v];
  std::vector<VertexIndex> greater(static_cast<std::size_t>(start[vertex_count]));
  std::vector<int> fill(start.begin(), start.end() - 1);
  for (const Triangle& t : triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const auto [low, high] = std::minmax(t[k], t[(k + 1) % 3]);
      greater[static_cast<std::size_t>(fill[low]++)] = high;
    }
  }
  std::vector<int> unique_end(vertex_count);
  const auto dof = static_cast<Eigen::Index>(2 * vertex_count);
  std::vector<int> outer(2 * vertex_count + 1, 0);
  std::vector<int> first_column(vertex_count);
  second_column.resize(vertex_count);
  int at = 0;
  for (std::size_t v = 0; v < vertex_count; ++v) {
    const auto first = greater.begin() + start[v];
    const auto last = greater.begin() + start[v + 1];
    std::sort(first, last);
    const auto count = static_cast<int>(std::unique(first, last) - first);
    unique_end[v] = start[v] + count;
    first_column[v] = at;
    outer[2 * v] = at;
    at += 2 + 2 * count;
    second_column[v] = at;
    outer[2 * v + 1] = at;
    at += 1 + 2 * count;
  }
  outer[2 * vertex_count] = at;
  values.resize(dof, dof);
  values.resizeNonZeros(at);
  std::copy(outer.begin(), outer.end(), values.outerIndexPtr());
  int* row = values.innerIndexPtr();
  for (std::size_t v = 0; v < vertex_count; ++v) {
    const auto self = static_cast<int>(2 * v);
    for (const int column : {0, 1}) {
      if (column == 0) *row++ = self;
      *row++ = self + 1;
      for (int i = start[v]; i < unique_end[v]; ++i) {
        const auto other = static_cast<int>(2 * greater[static_cast<std::size_t>(i)]);
        *row++ = other;
        *row++ = other + 1;
      }
    }
  }
  slots.reserve(triangles.size());
  for (const Triangle& t : triangles) {
    Slots s{};
    for (std::size_t k = 0; k < 3; ++k) {
      s.corner[k] = first_column[t[k]];
      const auto [low, high] = std::minmax(t[k], t[(k + 1) % 3]);
      const auto begin = greater.begin() + start[low];
      const auto position = static_cast<int>(
          std::lower_bound(begin, greater.begin() + unique_end[low], high) - begin);
      s.first[k] = first_column[low] + 2 + 2 * position;
      s.second[k] = second_column[low] + 1 + 2 * position;
    }
    slots.push_back(s);
  }
}

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
  Parts(std::span<const Triangle> t, std::span<const RestShape> s, std::size_t vertices)
      : triangles(t),
        shapes(s),
        matrix(t, vertices),
        gradient(2 * static_cast<Eigen::Index>(vertices)) {
    solver.analyzePattern(matrix.values);
    for (const RestShape& shape : shapes) area += shape.area;
  }

  [[nodiscard]] Mat2 map(std::size_t t, std::span<const Vec2> flat) const {
    const Triangle& c = triangles[t];
    return shapes[t].map(flat[c[0]], flat[c[1]], flat[c[2]]);
  }

  void assemble(std::span<const Vec2> flat, const Energy& energy) {
    double* const values = matrix.values.valuePtr();
    std::fill_n(values, matrix.values.nonZeros(), 0.0);
    gradient.setZero();
    for (std::size_t t = 0; t < triangles.size(); ++t) add(t, energy.derive(map(t, flat)), values);
    // Rigid motions cost nothing: a trace on the diagonal keeps the factorisation away from 0/0.
    double sum = 0;
    for (Eigen::Index i = 0; i < matrix.values.outerSize(); ++i) {
      sum += values[matrix.values.outerIndexPtr()[i]];
    }
    const double trace = 1e-10 * sum / static_cast<double>(matrix.values.outerSize());
    for (Eigen::Index i = 0; i < matrix.values.outerSize(); ++i) {
      double& diagonal = values[matrix.values.outerIndexPtr()[i]];
      diagonal += trace + 1e-12 * diagonal;
    }
  }

  void add(std::size_t t, const Derivatives& e, double* values) {
    const RestShape& s = shapes[t];
    const double g[3][2] = {{-s.g1x - s.g2x, -s.g1y - s.g2y}, {s.g1x, s.g1y}, {s.g2x, s.g2y}};
    const Triangle& c = triangles[t];
    const Slots& slot = matrix.slots[t];
    // For each corner i: area * H * (g_i (x) I), a 4x2 block.
    Eigen::Matrix<double, 4, 2> hg[3];
    for (std::size_t i = 0; i < 3; ++i) {
      hg[i] = s.area * (g[i][0] * e.hessian.leftCols<2>() + g[i][1] * e.hessian.rightCols<2>());
      const Eigen::Vector2d force =
          s.area * (g[i][0] * e.gradient.col(0) + g[i][1] * e.gradient.col(1));
      gradient.segment<2>(2 * static_cast<Eigen::Index>(c[i])) += force;
    }
    const auto block = [&](std::size_t row, std::size_t column) -> Mat2 {
      return g[row][0] * hg[column].topRows<2>() + g[row][1] * hg[column].bottomRows<2>();
    };
    for (std::size_t i = 0; i < 3; ++i) {
      const Mat2 own = block(i, i);
      values[slot.corner[i]] += own(0, 0);
      values[slot.corner[i] + 1] += own(1, 0);
      values[matrix.second_column[c[i]]] += own(1, 1);
      const std::size_t j = (i + 1) % 3;
      const Mat2 off = c[i] < c[j] ? block(j, i) : block(i, j);
      values[slot.first[i]] += off(0, 0);
      values[slot.first[i] + 1] += off(1, 0);
      values[slot.second[i]] += off(0, 1);
      values[slot.second[i] + 1] += off(1, 1);
    }
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
  Eigen::VectorXd gradient;
  double area = 0;
  Eigen::SimplicialLDLT<Sparse, Eigen::Lower> solver;
};

Minimiser::Minimiser(std::span<const Triangle> triangles, std::span<const RestShape> shapes,
                     std::size_t vertex_count)
    : parts_(std::make_unique<Parts>(triangles, shapes, vertex_count)) {}
Minimiser::~Minimiser() = default;
Minimiser::Minimiser(Minimiser&&) noexcept = default;
Minimiser& Minimiser::operator=(Minimiser&&) noexcept = default;

double Minimiser::total(std::span<const Vec2> flat, const Energy& energy) const {
  return parts_->total(flat, energy);
}

Result<NewtonOutcome> Minimiser::run(std::vector<Vec2>& flat, const Energy& energy,
                                     const NewtonGoal& goal, const Context& context) {
  FILM_ASSERT(2 * static_cast<Eigen::Index>(flat.size()) == parts_->gradient.size());
  NewtonOutcome outcome;
  std::vector<Vec2> move(flat.size());
  std::vector<Vec2> trial(flat.size());
  double energy_now = parts_->total(flat, energy);
  std::size_t idle = 0;
  double slope_before = 0;
  while (outcome.steps < goal.greatest_steps) {
    if (context.stopped()) return fail(ErrorCode::cancelled, "stopped while flattening");
    parts_->assemble(flat, energy);
    parts_->solver.factorize(parts_->matrix.values);
    if (parts_->solver.info() != Eigen::Success) return outcome;
    const Eigen::VectorXd direction = parts_->solver.solve(-parts_->gradient);
    if (!direction.allFinite()) return outcome;
    const double slope = parts_->gradient.dot(direction);
    for (std::size_t v = 0; v < flat.size(); ++v) {
      const auto i = 2 * static_cast<Eigen::Index>(v);
      move[v] = {direction[i], direction[i + 1]};
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
