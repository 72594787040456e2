#include "surface/detail/relaxed.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <Eigen/LU>

#include "surface/detail/jet.h"

namespace film::surface::detail {
namespace {

/// Angles tried before the best is refined; strongly orthotropic film may have several maxima.
constexpr int kAngles = 16;

/// Green strain and area of film over area of panel.
template <class Scalar>
struct Laid {
  Scalar ex, ey, exy, det;
};

/// J = (a c; b d). Right Cauchy-Green tensor of film laid on the panel: (J J^T)^-1.
template <class Scalar>
Laid<Scalar> laid(const Scalar& a, const Scalar& b, const Scalar& c, const Scalar& d) {
  const Scalar det = a * d - b * c;
  const Scalar per = inverse(det * det);
  return {0.5 * ((b * b + d * d) * per + (-1.0)), 0.5 * ((a * a + c * c) * per + (-1.0)),
          (-0.5) * ((a * b + c * d) * per), det};
}

}  // namespace

Sym2 green_strain(const Mat2& j) {
  const auto l = laid(j(0, 0), j(1, 0), j(0, 1), j(1, 1));
  return {l.ex, l.ey, l.exy};
}

RelaxedFilm::RelaxedFilm(const FilmProperties& film) : d_(stiffness_of(film)) {
  const double determinant = d_.along * d_.across - d_.coupled * d_.coupled;
  s11_ = d_.across / determinant;
  s22_ = d_.along / determinant;
  s12_ = -d_.coupled / determinant;
  const double mixed = 2 * s12_ + 1 / d_.shear;
  a0_ = 3 * (s11_ + s22_) / 8 + mixed / 8;
  a2_ = (s11_ - s22_) / 2;
  a4_ = (s11_ + s22_) / 8 - mixed / 8;
}

RelaxedFilm::Fibre RelaxedFilm::fibre(const Sym2& strain, double angle) const {
  const double half = (strain[0] - strain[1]) / 2;
  const double c2 = std::cos(2 * angle);
  const double s2 = std::sin(2 * angle);
  const double c4 = c2 * c2 - s2 * s2;
  const double s4 = 2 * s2 * c2;
  return {(strain[0] + strain[1]) / 2 + half * c2 + strain[2] * s2,
          2 * (strain[2] * c2 - half * s2),
          -4 * (half * c2 + strain[2] * s2),
          a0_ + a2_ * c2 + a4_ * c4,
          -2 * a2_ * s2 - 4 * a4_ * s4,
          -4 * a2_ * c2 - 16 * a4_ * c4};
}

double RelaxedFilm::tension_angle(const Sym2& strain) const {
  const auto stored = [&](double angle) {
    const Fibre f = fibre(strain, angle);
    return f.e > 0 ? f.e * f.e / f.c : 0;
  };
  double best = 0.5 * std::atan2(2 * strain[2], strain[0] - strain[1]);
  double most = stored(best);
  for (int i = 0; i < kAngles; ++i) {
    const double angle = std::numbers::pi * i / kAngles;
    if (const double value = stored(angle); value > most) {
      most = value;
      best = angle;
    }
  }
  // Newton's method for the maximum of 2 log e - log c, never going down.
  for (int i = 0; i < 30; ++i) {
    const Fibre f = fibre(strain, best);
    const double slope = 2 * f.e1 / f.e - f.c1 / f.c;
    const double curve =
        2 * (f.e2 / f.e - f.e1 * f.e1 / (f.e * f.e)) - f.c2 / f.c + f.c1 * f.c1 / (f.c * f.c);
    double step = curve < 0 ? -slope / curve : std::copysign(0.05, slope);
    step = std::clamp(step, -0.1, 0.1);
    while (std::abs(step) > 1e-15 && stored(best + step) < most) step /= 2;
    if (std::abs(step) <= 1e-15) break;
    best += step;
    most = stored(best);
  }
  return best;
}

RelaxedFilm::State RelaxedFilm::relax(const Sym2& strain) const {
  State state;
  state.stress = elastic_stress(strain);
  const double xx = state.stress[0];
  const double yy = state.stress[1];
  const double xy = state.stress[2] / 2;
  if (xx + yy >= 0 && xx * yy >= xy * xy) {
    state.value = elastic(strain);
    return state;
  }
  state.stress = {};
  if (strain[0] + strain[1] <= 0 && strain[0] * strain[1] >= strain[2] * strain[2]) {
    state.lie = Lie::slack;
    return state;
  }
  state.lie = Lie::wrinkled;
  state.angle = tension_angle(strain);
  const Fibre f = fibre(strain, state.angle);
  const double c = std::cos(state.angle);
  const double s = std::sin(state.angle);
  const double tension = f.e / f.c;
  state.value = f.e * tension / 2;
  state.stress = {tension * c * c, tension * s * s, tension * 2 * c * s};
  state.curvature =
      2 * (f.e2 / f.e - f.e1 * f.e1 / (f.e * f.e)) - f.c2 / f.c + f.c1 * f.c1 / (f.c * f.c);
  // Strain across the folds that the tension asks for, less what there is.
  const double xx_wanted = s11_ * c * c + s12_ * s * s;
  const double yy_wanted = s12_ * c * c + s22_ * s * s;
  const double xy_wanted = c * s / (2 * d_.shear);
  const double wanted = tension * (xx_wanted * s * s + yy_wanted * c * c - 2 * xy_wanted * c * s);
  const double present = strain[0] * s * s + strain[1] * c * c - 2 * strain[2] * c * s;
  state.fold = wanted - present;
  return state;
}

double RelaxedFilm::elastic(const Sym2& e) const {
  return 0.5 * d_.along * e[0] * e[0] + 0.5 * d_.across * e[1] * e[1] + d_.coupled * e[0] * e[1] +
         2 * d_.shear * e[2] * e[2];
}

Sym2 RelaxedFilm::elastic_stress(const Sym2& e) const {
  return {d_.along * e[0] + d_.coupled * e[1], d_.coupled * e[0] + d_.across * e[1],
          4 * d_.shear * e[2]};
}

std::array<double, 9> RelaxedFilm::elastic_stiffness() const {
  return {d_.along, d_.coupled, 0, d_.coupled, d_.across, 0, 0, 0, 4 * d_.shear};
}

std::array<double, 9> RelaxedFilm::stiffness(const Sym2& strain, const State& state) const {
  if (state.lie == Lie::taut) return elastic_stiffness();
  std::array<double, 9> h{};
  if (state.lie == Lie::slack) return h;
  const Fibre f = fibre(strain, state.angle);
  const double c = std::cos(state.angle);
  const double s = std::sin(state.angle);
  const Sym2 n{c * c, s * s, 2 * c * s};
  const Sym2 turn{-2 * c * s, 2 * c * s, 2 * (c * c - s * s)};
  // The angle follows the strain: the value is a maximum over angles, so its second derivative is
  // the one at rest less the mixed derivatives over the (negative) curvature.
  const double sliding = f.e1 / f.c - f.e * f.c1 / (f.c * f.c);
  const double by_angle = state.value * state.curvature;
  const double give = by_angle < 0 ? -1 / by_angle : 0;
  Sym2 mixed{};
  for (std::size_t i = 0; i < 3; ++i) mixed[i] = sliding * n[i] + f.e / f.c * turn[i];
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      h[3 * i + k] = n[i] * n[k] / f.c + give * mixed[i] * mixed[k];
    }
  }
  return h;
}

double RelaxedEnergy::value(const Mat2& j) const {
  const Sym2 strain = green_strain(j);
  return j.determinant() *
         ((1 - cost_) * film_.relax(strain).value + cost_ * film_.elastic(strain));
}

Derivatives RelaxedEnergy::derive(const Mat2& j) const {
  const auto l = laid(Jet::variable(j(0, 0), 0), Jet::variable(j(1, 0), 1),
                      Jet::variable(j(0, 1), 2), Jet::variable(j(1, 1), 3));
  const std::array<const Jet*, 3> strain_jets{&l.ex, &l.ey, &l.exy};
  const Sym2 strain{l.ex.value, l.ey.value, l.exy.value};
  const RelaxedFilm::State state = film_.relax(strain);
  const Sym2 elastic = film_.elastic_stress(strain);
  const auto k_relaxed = film_.stiffness(strain, state);
  const auto k_elastic = film_.elastic_stiffness();
  Jet density((1 - cost_) * state.value + cost_ * film_.elastic(strain));
  for (std::size_t i = 0; i < 3; ++i) {
    const double stress = (1 - cost_) * state.stress[i] + cost_ * elastic[i];
    const Jet& x = *strain_jets[i];
    for (std::size_t a = 0; a < Jet::kVariables; ++a) density.d[a] += stress * x.d[a];
    for (std::size_t a = 0; a < Jet::kPairs; ++a) density.dd[a] += stress * x.dd[a];
    for (std::size_t k = 0; k < 3; ++k) {
      const double stiff = (1 - cost_) * k_relaxed[3 * i + k] + cost_ * k_elastic[3 * i + k];
      const Jet& y = *strain_jets[k];
      std::size_t at = 0;
      for (std::size_t a = 0; a < Jet::kVariables; ++a) {
        for (std::size_t b = a; b < Jet::kVariables; ++b, ++at) {
          density.dd[at] += stiff * x.d[a] * y.d[b];
        }
      }
    }
  }
  return by_jet(density * l.det);
}

}  // namespace film::surface::detail
