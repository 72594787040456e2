#include "surface/detail/block_matrix.h"

#include <algorithm>

#include <Eigen/LU>

namespace film::surface::detail {

BlockMatrix::BlockMatrix(std::span<const Triangle> triangles, std::span<const RestShape> shapes,
                         std::size_t vertex_count)
    : gradient(2 * static_cast<Eigen::Index>(vertex_count)),
      triangles_(triangles),
      shapes_(shapes) {
  make_pattern(vertex_count);
}

void BlockMatrix::make_pattern(std::size_t vertex_count) {
  std::vector<int> start(vertex_count + 1, 0);
  for (const Triangle& t : triangles_) {
    for (std::size_t k = 0; k < 3; ++k) ++start[std::min(t[k], t[(k + 1) % 3]) + 1];
  }
  for (std::size_t v = 0; v < vertex_count; ++v) start[v + 1] += start[v];
  std::vector<VertexIndex> greater(static_cast<std::size_t>(start[vertex_count]));
  std::vector<int> fill(start.begin(), start.end() - 1);
  for (const Triangle& t : triangles_) {
    for (std::size_t k = 0; k < 3; ++k) {
      const auto [low, high] = std::minmax(t[k], t[(k + 1) % 3]);
      greater[static_cast<std::size_t>(fill[low]++)] = high;
    }
  }
  std::vector<int> unique_end(vertex_count);
  const auto dof = static_cast<Eigen::Index>(2 * vertex_count);
  std::vector<int> outer(2 * vertex_count + 1, 0);
  std::vector<int> first_column(vertex_count);
  second_column_.resize(vertex_count);
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
    second_column_[v] = at;
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
  slots_.reserve(triangles_.size());
  for (const Triangle& t : triangles_) {
    Slots s{};
    for (std::size_t k = 0; k < 3; ++k) {
      s.corner[k] = first_column[t[k]];
      const auto [low, high] = std::minmax(t[k], t[(k + 1) % 3]);
      const auto begin = greater.begin() + start[low];
      const auto position = static_cast<int>(
          std::lower_bound(begin, greater.begin() + unique_end[low], high) - begin);
      s.first[k] = first_column[low] + 2 + 2 * position;
      s.second[k] = second_column_[low] + 1 + 2 * position;
    }
    slots_.push_back(s);
  }
}

void BlockMatrix::assemble(std::span<const Vec2> flat, const Energy& energy) {
  double* const entries = values.valuePtr();
  std::fill_n(entries, values.nonZeros(), 0.0);
  gradient.setZero();
  for (std::size_t t = 0; t < triangles_.size(); ++t) {
    const Triangle& c = triangles_[t];
    Mat2 j = shapes_[t].map(flat[c[0]], flat[c[1]], flat[c[2]]);
    if (!(j.determinant() > 0)) {
      const Svd2 s = svd(j);
      j = s.u * s.v.transpose();
    }
    add(t, energy.derive(j));
  }
  // Rigid motions cost nothing: a trace on the diagonal keeps the factorisation away from 0/0.
  double sum = 0;
  for (Eigen::Index i = 0; i < values.outerSize(); ++i) {
    sum += entries[values.outerIndexPtr()[i]];
  }
  const double trace = 1e-10 * sum / static_cast<double>(values.outerSize());
  for (Eigen::Index i = 0; i < values.outerSize(); ++i) {
    double& diagonal = entries[values.outerIndexPtr()[i]];
    diagonal += trace + 1e-12 * diagonal;
  }
}

void BlockMatrix::add(std::size_t t, const Derivatives& e) {
  double* const entries = values.valuePtr();
  const RestShape& s = shapes_[t];
  const double g[2][2] = {{s.g1x, s.g1y}, {s.g2x, s.g2y}};
  const Triangle& c = triangles_[t];
  const Slots& slot = slots_[t];
  // For corners 1 and 2: area * H * (g (x) I), a 4x2 block. The three forces are in balance, so
  // whatever belongs to corner 0 is less the sum of the others.
  Eigen::Matrix<double, 4, 2> hg[2];
  Eigen::Vector2d force[2];
  for (std::size_t i = 0; i < 2; ++i) {
    hg[i] = s.area * (g[i][0] * e.hessian.leftCols<2>() + g[i][1] * e.hessian.rightCols<2>());
    force[i] = s.area * (g[i][0] * e.gradient.col(0) + g[i][1] * e.gradient.col(1));
  }
  const auto at = [this](VertexIndex v) {
    return gradient.segment<2>(2 * static_cast<Eigen::Index>(v));
  };
  at(c[0]) -= force[0] + force[1];
  at(c[1]) += force[0];
  at(c[2]) += force[1];
  const auto block = [&](std::size_t row, std::size_t column) -> Mat2 {
    return g[row][0] * hg[column].topRows<2>() + g[row][1] * hg[column].bottomRows<2>();
  };
  const Mat2 b11 = block(0, 0);
  const Mat2 b22 = block(1, 1);
  const Mat2 b21 = block(1, 0);
  const Mat2 b10 = -(b11 + b21.transpose());
  const Mat2 b20 = -(b21 + b22);
  const Mat2 b00 = -(b10 + b20);
  const Mat2* const own[3] = {&b00, &b11, &b22};
  const Mat2 side[3] = {b10, b21, b20.transpose()};  // row: the corner that follows
  for (std::size_t i = 0; i < 3; ++i) {
    entries[slot.corner[i]] += (*own[i])(0, 0);
    entries[slot.corner[i] + 1] += (*own[i])(1, 0);
    entries[second_column_[c[i]]] += (*own[i])(1, 1);
    const Mat2 off = c[i] < c[(i + 1) % 3] ? side[i] : Mat2(side[i].transpose());
    entries[slot.first[i]] += off(0, 0);
    entries[slot.first[i] + 1] += off(1, 0);
    entries[slot.second[i]] += off(0, 1);
    entries[slot.second[i] + 1] += off(1, 1);
  }
}

void BlockMatrix::hold(std::span<const char> held) {
  const auto is_held = [held](Eigen::Index i) {
    return held[static_cast<std::size_t>(i / 2)] != 0;
  };
  for (Eigen::Index column = 0; column < values.outerSize(); ++column) {
    for (Sparse::InnerIterator it(values, column); it; ++it) {
      if (is_held(column) || is_held(it.row())) it.valueRef() = it.row() == column ? 1 : 0;
    }
    if (is_held(column)) gradient[column] = 0;
  }
}

Eigen::VectorXd BlockMatrix::times(const Eigen::VectorXd& x) const {
  Eigen::VectorXd product = Eigen::VectorXd::Zero(x.size());
  const int* const start = values.outerIndexPtr();
  const int* const rows = values.innerIndexPtr();
  const double* const entries = values.valuePtr();
  const double* const in = x.data();
  double* const out = product.data();
  for (std::size_t v = 0; v < vertex_count(); ++v) {
    const double* first = entries + start[2 * v];
    const double* second = entries + second_column_[v];
    const int* row = rows + second_column_[v] + 1;  // of the blocks below the diagonal
    const int* const end = rows + start[2 * v + 2];
    const double x0 = in[2 * v];
    const double x1 = in[2 * v + 1];
    double y0 = first[0] * x0 + first[1] * x1;
    double y1 = first[1] * x0 + second[0] * x1;
    first += 2;
    second += 1;
    for (; row != end; row += 2, first += 2, second += 2) {
      const double z0 = in[*row];
      const double z1 = in[*row + 1];
      out[*row] += first[0] * x0 + second[0] * x1;
      out[*row + 1] += first[1] * x0 + second[1] * x1;
      y0 += first[0] * z0 + first[1] * z1;
      y1 += second[0] * z0 + second[1] * z1;
    }
    out[2 * v] += y0;
    out[2 * v + 1] += y1;
  }
  return product;
}

Mat2 BlockMatrix::diagonal(std::size_t vertex) const {
  const double* const entries = values.valuePtr();
  const int first = values.outerIndexPtr()[2 * vertex];
  Mat2 block;
  block << entries[first], entries[first + 1], entries[first + 1], entries[second_column_[vertex]];
  return block;
}

}  // namespace film::surface::detail
