#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace film::hours {

/// What a quantity will turn out to be: Student's t about `mean`.
struct Prediction {
  double mean = 0;
  double scale = 0;
  double degrees = 1;

  /// The value that is not exceeded with this chance, 0 < chance < 1.
  [[nodiscard]] double quantile(double chance) const;
};

/// Linear regression y = x . w + e, e normal, that learns a row at a time and never forgets or
/// rereads one. Beliefs held before (a conjugate normal-inverse-gamma prior) are rows as well, so
/// without any it is ordinary least squares, to the same figures.
///
/// It keeps the triangular factor of the rows, not their cross products, and computes in extended
/// precision: ten digits remain on polynomials whose normal equations have none
/// (docs/algorithms/hours.md). Where `long double` is only a double, three fewer remain.
/// Source: Gentleman, Least squares computations by Givens transformations without square roots,
/// J. Inst. Maths Applics 12 (1973) 329-336 (here with square roots); Gelman et al., Bayesian Data
/// Analysis, 3rd ed., sections 14.2 and 14.8.
/// Cost: O(terms^2) a row or prediction, O(terms^3) for the errors. Not thread-safe for learning.
class Regression {
 public:
  using Real = long double;

  explicit Regression(std::size_t terms);

  [[nodiscard]] std::size_t terms() const { return right_.size(); }
  /// One more term, unknown to all rows so far.
  void add_term();

  /// A belief about one coefficient, held before any row: normal about `mean`. Its standard
  /// deviation is `spread` times that of the noise; positive.
  void believe(std::size_t term, Real mean, Real spread);
  /// A belief about the noise that weighs as much as `rows` observations of it.
  void believe_noise(Real deviation, Real rows);

  /// `row` has one value for each term.
  void learn(std::span<const Real> row, Real y);

  /// Rows and beliefs that are left to judge the noise by.
  [[nodiscard]] double degrees() const;
  /// Whether every coefficient follows from rows and beliefs, and degrees() is positive.
  [[nodiscard]] bool is_settled() const;

  // All below ask for is_settled().
  [[nodiscard]] std::vector<double> coefficients() const;
  [[nodiscard]] std::vector<double> standard_errors() const;
  [[nodiscard]] double residual_deviation() const;
  [[nodiscard]] double residual_sum() const;  ///< of squares

  /// What the sum of observations will be whose rows sum to `row`, `noise` of them (of noise alone
  /// a quarter, say, when each half as noisy): variance s^2 (noise + row . V row).
  [[nodiscard]] Prediction predict(std::span<const Real> row, Real noise = 1) const;

 private:
  [[nodiscard]] Real& factor(std::size_t i, std::size_t j) { return factor_[j][i]; }
  [[nodiscard]] Real factor(std::size_t i, std::size_t j) const { return factor_[j][i]; }
  [[nodiscard]] std::vector<Real> solve() const;
  /// |R^-T row|^2, the squared length of the row against what is known.
  [[nodiscard]] Real leverage(std::span<const Real> row) const;
  void absorb(std::vector<Real> row, Real y);

  std::vector<std::vector<Real>> factor_;  ///< upper triangular, by columns
  std::vector<Real> right_;                ///< the right-hand side under the same rotations
  Real residual_ = 0;                      ///< sum of squares that no coefficients take away
  Real rows_ = 0;                          ///< beliefs about the noise count as they say
};

}  // namespace film::hours
