#pragma once

#include "surface/detail/rest_shape.h"
#include "surface/film.h"

namespace film::surface::detail {

/// First and second derivatives of an energy density by the entries of J, taken column by column
/// (J00, J10, J01, J11). The Hessian is made positive semi-definite.
struct Derivatives {
  Mat2 gradient;
  Mat4 hessian;
};

struct Jet;
/// A jet by (J00, J10, J01, J11) as derivatives.
Derivatives by_jet(const Jet& density);

/// Of film that stretches elastically, in units of the stiffness across the grain: energy
/// along ex^2 / 2 + across ey^2 / 2 + coupled ex ey + shear (2 exy)^2 / 2 of Green strain.
struct Stiffness {
  double along, across, coupled, shear;
};
Stiffness stiffness_of(const FilmProperties& film);

/// First and second derivatives of a density by the singular values of J.
struct SingularDerivatives {
  double d1, d2, d11, d22, d12;
};

/// An energy per panel area of the map J from panel to film (det J > 0), not changed by turning
/// the panel's frame; grows without bound as J is squashed.
class Energy {
 public:
  virtual ~Energy() = default;
  /// Least value over all J.
  [[nodiscard]] virtual double least() const = 0;
  [[nodiscard]] virtual double value(const Mat2& j) const = 0;
  [[nodiscard]] virtual Derivatives derive(const Mat2& j) const = 0;
  /// First derivatives alone, where they come several times quicker.
  [[nodiscard]] virtual Mat2 gradient(const Mat2& j) const { return derive(j).gradient; }
};

/// |J|^2 + |J^-1|^2; 4 at an isometry.
class SymmetricDirichlet final : public Energy {
 public:
  [[nodiscard]] double least() const override { return 4; }
  [[nodiscard]] double value(const Mat2& j) const override;
  [[nodiscard]] Mat2 gradient(const Mat2& j) const override;
  [[nodiscard]] Derivatives derive(const Mat2& j) const override;
};

/// Sum over both singular values of (k s)^p + (k s)^-p, divided by e^(p t): as p grows it counts
/// only the stretches farthest from the scale k.
class PowerBound final : public Energy {
 public:
  PowerBound(double p, double log_scale, double log_bound)
      : p_(p), log_scale_(log_scale), log_bound_(log_bound) {}
  [[nodiscard]] double least() const override { return 0; }
  [[nodiscard]] double value(const Mat2& j) const override;
  [[nodiscard]] Derivatives derive(const Mat2& j) const override;

 private:
  double p_, log_scale_, log_bound_;
};

/// Energy stored by film that was cut by J and is laid on the panel: orthotropic elastic in Green
/// strain (grain along film x), a quadratic wall past the tension limits along and across, an
/// extra cost of squeeze in the principal stretches. In units of the stiffness across the grain.
class FilmEnergy final : public Energy {
 public:
  explicit FilmEnergy(const FilmProperties& film);
  [[nodiscard]] double least() const override { return 0; }
  [[nodiscard]] double value(const Mat2& j) const override;
  [[nodiscard]] Mat2 gradient(const Mat2& j) const override;
  [[nodiscard]] Derivatives derive(const Mat2& j) const override;

 private:
  template <class Scalar>
  Scalar elastic(const Scalar& a, const Scalar& b, const Scalar& c, const Scalar& d) const;

  /// For film that is the same both ways and within its limits: its density depends on the
  /// singular values alone.
  [[nodiscard]] SingularDerivatives by_singular_values(double s1, double s2) const;

  Stiffness stiffness_;
  double limit_along_, limit_across_;  // squared stretches
  double wall_, squeeze_;
  bool same_both_ways_;
};

}  // namespace film::surface::detail
