#include "hours/regression.h"

#include <cmath>

#include "base/assert.h"
#include "hours/student.h"

namespace film::hours {

double Prediction::quantile(double chance) const {
  return mean + scale * student_quantile(chance, degrees);
}

Regression::Regression(std::size_t terms) {
  for (std::size_t term = 0; term < terms; ++term) add_term();
}

void Regression::add_term() {
  factor_.emplace_back(factor_.size() + 1, Real{0});
  right_.push_back(0);
}

void Regression::believe(std::size_t term, Real mean, Real spread) {
  FILM_ASSERT(term < terms() && spread > 0);
  std::vector<Real> row(terms(), 0);
  row[term] = 1 / spread;
  absorb(std::move(row), mean / spread);
}

void Regression::believe_noise(Real deviation, Real rows) {
  residual_ += rows * deviation * deviation;
  rows_ += rows;
}

void Regression::learn(std::span<const Real> row, Real y) {
  FILM_ASSERT(row.size() == terms());
  absorb({row.begin(), row.end()}, y);
}

void Regression::absorb(std::vector<Real> row, Real y) {
  for (std::size_t i = 0; i < terms(); ++i) {
    if (row[i] == 0) continue;
    const Real length = std::hypot(factor(i, i), row[i]);
    const Real cosine = factor(i, i) / length;
    const Real sine = row[i] / length;
    for (std::size_t j = i; j < terms(); ++j) {
      const Real kept = factor(i, j);
      factor(i, j) = cosine * kept + sine * row[j];
      row[j] = cosine * row[j] - sine * kept;
    }
    const Real kept = right_[i];
    right_[i] = cosine * kept + sine * y;
    y = cosine * y - sine * kept;
  }
  residual_ += y * y;
  rows_ += 1;
}

double Regression::degrees() const {
  return static_cast<double>(rows_ - static_cast<Real>(terms()));
}

bool Regression::is_settled() const {
  for (std::size_t i = 0; i < terms(); ++i) {
    if (factor(i, i) == 0) return false;
  }
  return degrees() > 0;
}

std::vector<Regression::Real> Regression::solve() const {
  FILM_ASSERT(is_settled());
  std::vector<Real> solution = right_;
  for (std::size_t i = terms(); i-- > 0;) {
    for (std::size_t j = i + 1; j < terms(); ++j) solution[i] -= factor(i, j) * solution[j];
    solution[i] /= factor(i, i);
  }
  return solution;
}

Regression::Real Regression::leverage(std::span<const Real> row) const {
  FILM_ASSERT(row.size() == terms());
  std::vector<Real> part(row.begin(), row.end());
  Real squared = 0;
  for (std::size_t i = 0; i < terms(); ++i) {
    for (std::size_t j = 0; j < i; ++j) part[i] -= factor(j, i) * part[j];
    part[i] /= factor(i, i);
    squared += part[i] * part[i];
  }
  return squared;
}

std::vector<double> Regression::coefficients() const {
  const std::vector<Real> exact = solve();
  std::vector<double> rounded;
  for (const Real value : exact) rounded.push_back(static_cast<double>(value));
  return rounded;
}

std::vector<double> Regression::standard_errors() const {
  FILM_ASSERT(is_settled());
  std::vector<double> errors;
  std::vector<Real> unit(terms(), 0);
  for (std::size_t term = 0; term < terms(); ++term) {
    unit[term] = 1;
    errors.push_back(residual_deviation() * static_cast<double>(std::sqrt(leverage(unit))));
    unit[term] = 0;
  }
  return errors;
}

double Regression::residual_sum() const { return static_cast<double>(residual_); }

double Regression::residual_deviation() const {
  return static_cast<double>(std::sqrt(residual_ / static_cast<Real>(degrees())));
}

Prediction Regression::predict(std::span<const Real> row, Real noise) const {
  const std::vector<Real> weights = solve();
  Real mean = 0;
  for (std::size_t i = 0; i < terms(); ++i) mean += weights[i] * row[i];
  return {static_cast<double>(mean),
          residual_deviation() * static_cast<double>(std::sqrt(noise + leverage(row))), degrees()};
}

}  // namespace film::hours
