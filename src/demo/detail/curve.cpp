#include "demo/detail/curve.h"

#include <algorithm>

namespace film::demo {

Curve::Curve(std::initializer_list<std::pair<double, double>> points) {
  for (const auto& [x, y] : points) {
    x_.push_back(x);
    y_.push_back(y);
  }
  // Thomas elimination of the natural spline's tridiagonal equations.
  const std::size_t n = x_.size();
  bend_.assign(n, 0.0);
  std::vector<double> factor(n, 0.0);
  for (std::size_t i = 1; i + 1 < n; ++i) {
    const double h0 = x_[i] - x_[i - 1], h1 = x_[i + 1] - x_[i];
    const double right = 6 * ((y_[i + 1] - y_[i]) / h1 - (y_[i] - y_[i - 1]) / h0);
    const double pivot = 2 * (h0 + h1) - h0 * factor[i - 1];
    factor[i] = h1 / pivot;
    bend_[i] = (right - h0 * bend_[i - 1]) / pivot;
  }
  for (std::size_t i = n - 1; i-- > 1;) bend_[i] -= factor[i] * bend_[i + 1];
}

std::size_t Curve::piece(double x) const {
  std::size_t i = 0;
  while (i + 2 < x_.size() && x > x_[i + 1]) ++i;
  return i;
}

double Curve::operator()(double x) const {
  const double inside = std::clamp(x, x_.front(), x_.back());
  const std::size_t i = piece(inside);
  const double h = x_[i + 1] - x_[i], a = (x_[i + 1] - inside) / h, b = (inside - x_[i]) / h;
  const double value = a * y_[i] + b * y_[i + 1] +
                       ((a * a * a - a) * bend_[i] + (b * b * b - b) * bend_[i + 1]) * h * h / 6;
  return inside == x ? value : value + (x - inside) * slope(inside);
}

double Curve::slope(double x) const {
  const double inside = std::clamp(x, x_.front(), x_.back());
  const std::size_t i = piece(inside);
  const double h = x_[i + 1] - x_[i], a = (x_[i + 1] - inside) / h, b = (inside - x_[i]) / h;
  return (y_[i + 1] - y_[i]) / h +
         ((3 * b * b - 1) * bend_[i + 1] - (3 * a * a - 1) * bend_[i]) * h / 6;
}

}  // namespace film::demo
