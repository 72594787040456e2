#include "hours/student.h"

#include <array>
#include <cmath>
#include <limits>

#include "base/assert.h"

namespace film::hours {
namespace {

/// The continued fraction of the incomplete beta function, by the modified Lentz method.
double beta_fraction(double a, double b, double x) {
  constexpr double kTiny = 1e-300;
  double c = 1;
  double d = 1 - (a + b) * x / (a + 1);
  d = 1 / (std::abs(d) < kTiny ? kTiny : d);
  double value = d;
  for (int m = 1; m <= 10000; ++m) {
    const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    double step = 1;
    for (const double term : std::array{even, odd}) {
      d = 1 + term * d;
      d = 1 / (std::abs(d) < kTiny ? kTiny : d);
      c = 1 + term / c;
      if (std::abs(c) < kTiny) c = kTiny;
      step = c * d;
      value *= step;
    }
    if (std::abs(step - 1) < std::numeric_limits<double>::epsilon()) break;
  }
  return value;
}

/// I_x(a, b); `y` is 1 - x, given apart so that neither loses digits.
double regular_beta(double a, double b, double x, double y) {
  if (x <= 0) return 0;
  if (y <= 0) return 1;
  // For many degrees these are large and nearly cancel.
  const auto log_gamma = [](double value) { return std::lgamma(static_cast<long double>(value)); };
  const double scale = static_cast<double>(log_gamma(a + b) - log_gamma(a) - log_gamma(b));
  const double front = std::exp(scale + a * std::log(x) + b * std::log(y));
  if (x < (a + 1) / (a + b + 2)) return front * beta_fraction(a, b, x) / a;
  return 1 - front * beta_fraction(b, a, y) / b;
}

/// The chance of a value above t > 0.
double tail(double t, double degrees) {
  const double whole = degrees + t * t;
  return 0.5 * regular_beta(degrees / 2, 0.5, degrees / whole, t * t / whole);
}

}  // namespace

double student_below(double t, double degrees) {
  FILM_ASSERT(degrees > 0);
  if (t == 0) return 0.5;
  return t > 0 ? 1 - tail(t, degrees) : tail(-t, degrees);
}

double student_quantile(double chance, double degrees) {
  FILM_ASSERT(chance > 0 && chance < 1 && degrees > 0);
  if (chance < 0.5) return -student_quantile(1 - chance, degrees);
  const double above = 1 - chance;
  if (above >= 0.5) return 0;
  double low = 0;
  double high = 1;
  while (tail(high, degrees) > above) high *= 2;
  // Halving loses no digits and needs no derivative; 200 steps reach the last bit of any double.
  for (int step = 0; step < 200 && low < high; ++step) {
    const double middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) break;
    (tail(middle, degrees) > above ? low : high) = middle;
  }
  return low + (high - low) / 2;
}

}  // namespace film::hours
