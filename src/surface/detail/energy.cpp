#include "surface/detail/energy.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>

#include "surface/detail/jet.h"

namespace film::surface::detail {
namespace {

void add_outer(Mat4& h, double weight, const Mat2& direction) {
  const Eigen::Map<const Eigen::Vector4d> q(direction.data());
  h.noalias() += weight * q * q.transpose();
}

/// The derivatives by J of a density of the singular values alone. The Hessian's eigenpairs are
/// known in closed form and clamped to be positive.
/// Source: B. Smith, F. de Goes, T. Kim, "Analytic eigensystems for isotropic distortion energies",
/// ACM TOG 38(1), 2019.
Derivatives by_map(const Svd2& s, const SingularDerivatives& f) {
  Derivatives result;
  const auto back = [&s](double a, double b, double c, double d) {
    Mat2 m;
    m << a, b, c, d;
    return Mat2(s.u * m * s.v.transpose());
  };
  result.gradient = back(f.d1, 0, 0, f.d2);
  result.hessian.setZero();
  const double mean = (f.d11 + f.d22) / 2;
  const double half = (f.d11 - f.d22) / 2;
  const double radius = std::sqrt(half * half + f.d12 * f.d12);
  // Half the angle whose cosine is half / radius and whose sine is d12 / radius.
  const double c = radius > 0 ? std::sqrt(std::max(0.0, (1 + half / radius) / 2)) : 1;
  const double d =
      radius > 0 ? std::copysign(std::sqrt(std::max(0.0, (1 - half / radius) / 2)), f.d12) : 0;
  add_outer(result.hessian, std::max(mean + radius, 0.0), back(c, 0, 0, d));
  add_outer(result.hessian, std::max(mean - radius, 0.0), back(-d, 0, 0, c));
  const double r = std::sqrt(0.5);
  const double twist = (f.d1 + f.d2) / (s.s1 + s.s2);
  add_outer(result.hessian, std::max(twist, 0.0), back(0, -r, r, 0));
  const double gap = s.s1 - s.s2;
  const double flip = gap > 1e-6 * s.s1 ? (f.d1 - f.d2) / gap : (f.d11 + f.d22) / 2 - f.d12;
  add_outer(result.hessian, std::max(flip, 0.0), back(0, r, r, 0));
  return result;
}

Mat4 positive_part(const Mat4& h) {
  if (h.llt().info() == Eigen::Success) return h;
  const Eigen::SelfAdjointEigenSolver<Mat4> solver(h);
  const Eigen::Vector4d clamped = solver.eigenvalues().cwiseMax(0.0);
  return solver.eigenvectors() * clamped.asDiagonal() * solver.eigenvectors().transpose();
}

}  // namespace

Derivatives by_jet(const Jet& density) {
  Derivatives result;
  Mat4 h;
  std::size_t k = 0;
  for (Eigen::Index r = 0; r < 4; ++r) {
    result.gradient.data()[r] = density.d[static_cast<std::size_t>(r)];
    for (Eigen::Index q = r; q < 4; ++q, ++k) h(r, q) = h(q, r) = density.dd[k];
  }
  result.hessian = positive_part(h);
  return result;
}

double SymmetricDirichlet::value(const Mat2& j) const {
  const double det = j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0);
  return j.squaredNorm() * (1 + 1 / (det * det));
}

Mat2 SymmetricDirichlet::gradient(const Mat2& j) const {
  const double inverse2 = 1 / (j.determinant() * j.determinant());
  return 2 * (1 + inverse2) * j - 2 * j.squaredNorm() * inverse2 * j.inverse().transpose();
}

Derivatives SymmetricDirichlet::derive(const Mat2& j) const {
  const Svd2 s = svd(j);
  const double i1 = 1 / s.s1;
  const double i2 = 1 / s.s2;
  return by_map(s, {2 * s.s1 - 2 * i1 * i1 * i1, 2 * s.s2 - 2 * i2 * i2 * i2,
                    2 + 6 * i1 * i1 * i1 * i1, 2 + 6 * i2 * i2 * i2 * i2, 0});
}

double PowerBound::value(const Mat2& j) const {
  const Svd2 s = svd(j);
  const double l1 = std::log(s.s1) + log_scale_;
  const double l2 = std::log(s.s2) + log_scale_;
  const auto term = [this](double l) {
    return std::exp(p_ * (l - log_bound_)) + std::exp(p_ * (-l - log_bound_));
  };
  return term(l1) + term(l2);
}

Derivatives PowerBound::derive(const Mat2& j) const {
  const Svd2 s = svd(j);
  SingularDerivatives f{};
  const auto term = [this](double sigma, double& first, double& second) {
    const double l = std::log(sigma) + log_scale_;
    const double up = std::exp(p_ * (l - log_bound_));
    const double down = std::exp(p_ * (-l - log_bound_));
    first = p_ * (up - down) / sigma;
    second = p_ * ((p_ - 1) * up + (p_ + 1) * down) / (sigma * sigma);
  };
  term(s.s1, f.d1, f.d11);
  term(s.s2, f.d2, f.d22);
  return by_map(s, f);
}

Stiffness stiffness_of(const FilmProperties& film) {
  const double nu_yx = film.contraction;
  const double nu_xy = film.contraction * film.stiffness_ratio;
  const double determinant = 1 - nu_xy * nu_yx;
  return {film.stiffness_ratio / determinant, 1 / determinant, nu_xy / determinant,
          std::sqrt(film.stiffness_ratio) / (2 * (1 + std::sqrt(nu_xy * nu_yx)))};
}

FilmEnergy::FilmEnergy(const FilmProperties& film) : stiffness_(stiffness_of(film)) {
  limit_along_ = (1 + film.tension_limit_along) * (1 + film.tension_limit_along);
  limit_across_ = (1 + film.tension_limit_across) * (1 + film.tension_limit_across);
  wall_ = 20 * std::max(stiffness_.along, stiffness_.across);
  squeeze_ = film.squeeze_cost - 1;
  same_both_ways_ = film.stiffness_ratio == 1;
}

template <class Scalar>
Scalar FilmEnergy::elastic(const Scalar& a, const Scalar& b, const Scalar& c,
                           const Scalar& d) const {
  // J = (a c; b d). Right Cauchy-Green tensor of film laid on the panel: (J J^T)^-1.
  const Scalar det = a * d - b * c;
  const Scalar per = inverse(det * det);
  const Scalar cxx = (b * b + d * d) * per;
  const Scalar cyy = (a * a + c * c) * per;
  const Scalar cxy = (-1.0) * ((a * b + c * d) * per);
  const Scalar ex = 0.5 * (cxx + (-1.0));
  const Scalar ey = 0.5 * (cyy + (-1.0));
  Scalar density = (0.5 * stiffness_.along) * (ex * ex) + (0.5 * stiffness_.across) * (ey * ey) +
                   stiffness_.coupled * (ex * ey) + (0.5 * stiffness_.shear) * (cxy * cxy);
  const auto wall = [&](const Scalar& stretch2, double limit2) {
    if (value_of(stretch2) <= limit2) return;
    const Scalar over = stretch2 + (-limit2);
    density = density + (0.5 * wall_) * (over * over);
  };
  wall(cxx, limit_along_);
  wall(cyy, limit_across_);
  return density * det;
}

double FilmEnergy::value(const Mat2& j) const {
  const SingularValues s = singular_values(j);
  const auto squeeze = [](double sigma) { return sigma > 1 ? (sigma - 1) * (sigma - 1) / 2 : 0; };
  return elastic(j(0, 0), j(1, 0), j(0, 1), j(1, 1)) + squeeze_ * (squeeze(s.s1) + squeeze(s.s2));
}

Mat2 FilmEnergy::gradient(const Mat2& j) const {
  // With C = (J J^T)^-1 and S = dw/dC: dC = -C (dJ J^T + J dJ^T) C, so dw/dJ = -2 C S C J.
  const double det = j.determinant();
  const Mat2 back = j.inverse().transpose();
  const Mat2 c = back * back.transpose();
  const double ex = 0.5 * (c(0, 0) - 1);
  const double ey = 0.5 * (c(1, 1) - 1);
  double density = 0.5 * stiffness_.along * ex * ex + 0.5 * stiffness_.across * ey * ey +
                   stiffness_.coupled * ex * ey + 0.5 * stiffness_.shear * c(0, 1) * c(0, 1);
  Mat2 s;
  s << 0.5 * (stiffness_.along * ex + stiffness_.coupled * ey), 0.5 * stiffness_.shear * c(0, 1),
      0.5 * stiffness_.shear * c(0, 1), 0.5 * (stiffness_.across * ey + stiffness_.coupled * ex);
  const auto wall = [&](double stretch2, double limit2, double& slope) {
    if (stretch2 <= limit2) return;
    const double over = stretch2 - limit2;
    density += 0.5 * wall_ * over * over;
    slope += wall_ * over;
  };
  wall(c(0, 0), limit_along_, s(0, 0));
  wall(c(1, 1), limit_across_, s(1, 1));
  const Svd2 parts = svd(j);
  const auto slope = [&](double sigma) { return sigma > 1 ? squeeze_ * (sigma - 1) : 0; };
  Mat2 result = det * (density * back - 2 * c * s * back);
  if (parts.s1 > 1) {
    result += slope(parts.s1) * parts.u.col(0) * parts.v.col(0).transpose() +
              slope(parts.s2) * parts.u.col(1) * parts.v.col(1).transpose();
  }
  return result;
}

SingularDerivatives FilmEnergy::by_singular_values(double s1, double s2) const {
  const double e1 = 0.5 * (1 / (s1 * s1) - 1);
  const double e2 = 0.5 * (1 / (s2 * s2) - 1);
  const double d1 = -1 / (s1 * s1 * s1);
  const double d2 = -1 / (s2 * s2 * s2);
  const double stress1 = stiffness_.across * e1 + stiffness_.coupled * e2;
  const double stress2 = stiffness_.across * e2 + stiffness_.coupled * e1;
  const double w = 0.5 * (stress1 * e1 + stress2 * e2);
  const double w1 = stress1 * d1;
  const double w2 = stress2 * d2;
  const double w11 = stiffness_.across * d1 * d1 - 3 * w1 / s1;
  const double w22 = stiffness_.across * d2 * d2 - 3 * w2 / s2;
  const double w12 = stiffness_.coupled * d1 * d2;
  const auto slope = [&](double sigma) { return sigma > 1 ? squeeze_ * (sigma - 1) : 0; };
  const auto curve = [&](double sigma) { return sigma > 1 ? squeeze_ : 0; };
  return {s2 * (w + s1 * w1) + slope(s1), s1 * (w + s2 * w2) + slope(s2),
          s2 * (2 * w1 + s1 * w11) + curve(s1), s1 * (2 * w2 + s2 * w22) + curve(s2),
          w + s1 * w1 + s2 * w2 + s1 * s2 * w12};
}

Derivatives FilmEnergy::derive(const Mat2& j) const {
  if (same_both_ways_) {
    const Svd2 parts = svd(j);
    const Mat2 back = parts.u * Eigen::Vector2d(1 / parts.s1, 1 / parts.s2).asDiagonal();
    const bool at_limit =
        back.row(0).squaredNorm() > limit_along_ || back.row(1).squaredNorm() > limit_across_;
    if (!at_limit) return by_map(parts, by_singular_values(parts.s1, parts.s2));
  }
  const Jet w = elastic(Jet::variable(j(0, 0), 0), Jet::variable(j(1, 0), 1),
                        Jet::variable(j(0, 1), 2), Jet::variable(j(1, 1), 3));
  const Svd2 s = svd(j);
  const auto slope = [&](double sigma) { return sigma > 1 ? squeeze_ * (sigma - 1) : 0; };
  const auto curve = [&](double sigma) { return sigma > 1 ? squeeze_ : 0; };
  Derivatives result = by_map(s, {slope(s.s1), slope(s.s2), curve(s.s1), curve(s.s2), 0});
  const Derivatives stretched = by_jet(w);
  result.gradient += stretched.gradient;
  result.hessian += stretched.hessian;
  return result;
}

}  // namespace film::surface::detail
