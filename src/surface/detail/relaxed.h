#pragma once

#include <array>

#include "surface/detail/energy.h"
#include "surface/tension.h"

namespace film::surface::detail {

/// Green strain or stress in the film's frame: xx, yy, xy.
using Sym2 = std::array<double, 3>;

/// The relaxed energy of orthotropic film: the least that it stores when it may fold as finely as
/// it likes, and so give up any squeeze at no cost. For the quadratic energy W of Green strain E it
/// is the least of W(E + A) over all positive semi-definite A, or, the same, the greatest of
/// S : E - W*(S) over all stresses S without compression.
/// Sources: A. C. Pipkin, "The relaxed energy density for isotropic elastic membranes", IMA J.
/// Appl. Math. 36, 1986; "Relaxed energy densities for large deformations of membranes", 52, 1994.
class RelaxedFilm {
 public:
  explicit RelaxedFilm(const FilmProperties& film);

  struct State {
    Lie lie = Lie::taut;
    double value = 0;
    Sym2 stress{};     ///< derivative of the value by xx, yy and (both) xy
    double angle = 0;  ///< of the only tension, if wrinkled
    double fold = 0;   ///< Green strain folded away across it, if wrinkled
    double curvature =
        0;  ///< second derivative of log(2 value) by the angle, if wrinkled; negative
  };
  [[nodiscard]] State relax(const Sym2& strain) const;

  [[nodiscard]] double elastic(const Sym2& strain) const;
  [[nodiscard]] Sym2 elastic_stress(const Sym2& strain) const;
  /// Second derivatives by (xx, yy, xy), rows first; of the elastic energy and of the relaxed one.
  [[nodiscard]] std::array<double, 9> elastic_stiffness() const;
  [[nodiscard]] std::array<double, 9> stiffness(const Sym2& strain, const State& state) const;

 private:
  /// Strain along the direction at an angle, and the compliance there, each with two derivatives.
  struct Fibre {
    double e, e1, e2, c, c1, c2;
  };
  [[nodiscard]] Fibre fibre(const Sym2& strain, double angle) const;
  /// The angle at which a single tension stores most.
  [[nodiscard]] double tension_angle(const Sym2& strain) const;

  Stiffness d_;
  double s11_, s22_, s12_;  // compliances
  double a0_, a2_, a4_;     // compliance along a direction: a0 + a2 cos 2t + a4 cos 4t
};

/// Relaxed energy of film cut by J and laid on the panel, per panel area, with a share of the
/// elastic energy beside it: folds are not quite free, and the shape of loose film is settled.
class RelaxedEnergy final : public Energy {
 public:
  RelaxedEnergy(const FilmProperties& film, double folding_cost)
      : film_(film), cost_(folding_cost) {}
  [[nodiscard]] double least() const override { return 0; }
  [[nodiscard]] double value(const Mat2& j) const override;
  [[nodiscard]] Derivatives derive(const Mat2& j) const override;

 private:
  RelaxedFilm film_;
  double cost_;
};

/// Green strain of film cut by J and laid on the panel.
Sym2 green_strain(const Mat2& j);

}  // namespace film::surface::detail
