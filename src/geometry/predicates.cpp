#include "geometry/predicates.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

namespace film {
namespace {

/// A sum of doubles kept exactly: components do not overlap and grow in magnitude (Shewchuk's
/// Grow-Expansion with zero elimination).
class ExactSum {
 public:
  void add(double b) {
    std::size_t kept = 0;
    double carry = b;
    for (std::size_t i = 0; i < size_; ++i) {
      const double sum = carry + parts_[i];
      const double virtual_part = sum - carry;
      const double error = (carry - (sum - virtual_part)) + (parts_[i] - virtual_part);
      carry = sum;
      if (error != 0) parts_[kept++] = error;
    }
    if (carry != 0) parts_[kept++] = carry;
    size_ = kept;
  }
  void add_product(double a, double b) {
    const double product = a * b;
    add(std::fma(a, b, -product));
    add(product);
  }
  [[nodiscard]] int sign() const {
    if (size_ == 0) return 0;
    return parts_[size_ - 1] > 0 ? 1 : -1;
  }

 private:
  std::array<double, 16> parts_{};
  std::size_t size_ = 0;
};

int exact_orientation(Vec2 a, Vec2 b, Vec2 c) {
  ExactSum sum;
  sum.add_product(a.x, b.y);
  sum.add_product(-a.x, c.y);
  sum.add_product(-c.x, b.y);
  sum.add_product(-a.y, b.x);
  sum.add_product(a.y, c.x);
  sum.add_product(c.y, b.x);
  return sum.sign();
}

/// c is known to lie on the line through a and b: does it lie between them (ends included)?
bool within(Vec2 a, Vec2 b, Vec2 c) {
  return std::min(a.x, b.x) <= c.x && c.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= c.y &&
         c.y <= std::max(a.y, b.y);
}

Meeting meet_on_one_line(Vec2 p0, Vec2 p1, Vec2 q0, Vec2 q1) {
  const bool along_x = std::abs(p1.x - p0.x) + std::abs(q1.x - q0.x) >=
                       std::abs(p1.y - p0.y) + std::abs(q1.y - q0.y);
  const auto key = [along_x](Vec2 v) { return along_x ? v.x : v.y; };
  const double low = std::max(std::min(key(p0), key(p1)), std::min(key(q0), key(q1)));
  const double high = std::min(std::max(key(p0), key(p1)), std::max(key(q0), key(q1)));
  if (low > high) return Meeting::none;
  return low == high ? Meeting::touch : Meeting::overlap;
}

}  // namespace

int orientation(Vec2 a, Vec2 b, Vec2 c) {
  const double left = (a.x - c.x) * (b.y - c.y);
  const double right = (a.y - c.y) * (b.x - c.x);
  const double determinant = left - right;
  constexpr double kEpsilon = std::numeric_limits<double>::epsilon() / 2;
  constexpr double kBound = (3 + 16 * kEpsilon) * kEpsilon;
  if (std::abs(determinant) > kBound * (std::abs(left) + std::abs(right))) {
    return determinant > 0 ? 1 : -1;
  }
  return exact_orientation(a, b, c);
}

Meeting meet(Vec2 p0, Vec2 p1, Vec2 q0, Vec2 q1) {
  const int a = orientation(p0, p1, q0);
  const int b = orientation(p0, p1, q1);
  const int c = orientation(q0, q1, p0);
  const int d = orientation(q0, q1, p1);
  if (a * b < 0 && c * d < 0) return Meeting::cross;
  if (a == 0 && b == 0 && c == 0 && d == 0) return meet_on_one_line(p0, p1, q0, q1);
  const bool touches = (a == 0 && within(p0, p1, q0)) || (b == 0 && within(p0, p1, q1)) ||
                       (c == 0 && within(q0, q1, p0)) || (d == 0 && within(q0, q1, p1));
  return touches ? Meeting::touch : Meeting::none;
}

}  // namespace film
