#pragma once

#include <compare>
#include <cstdint>
#include <numbers>

namespace film {

/// A length in millimetres. Inches exist only at the edge: `Mm::from_inches`.
struct Mm {
  double value = 0;

  static constexpr double kPerInch = 25.4;  ///< exact by definition (1959 international inch)
  static constexpr Mm from_inches(double inches) { return Mm{inches * kPerInch}; }
  [[nodiscard]] constexpr double inches() const { return value / kPerInch; }

  friend constexpr auto operator<=>(Mm, Mm) = default;
  friend constexpr Mm operator+(Mm a, Mm b) { return Mm{a.value + b.value}; }
  friend constexpr Mm operator-(Mm a, Mm b) { return Mm{a.value - b.value}; }
  friend constexpr Mm operator-(Mm a) { return Mm{-a.value}; }
  friend constexpr Mm operator*(Mm a, double k) { return Mm{a.value * k}; }
  friend constexpr Mm operator*(double k, Mm a) { return Mm{a.value * k}; }
  friend constexpr double operator/(Mm a, Mm b) { return a.value / b.value; }
};

/// An angle in radians, counter-clockwise. Degrees exist only at the edge.
struct Angle {
  double radians = 0;

  static constexpr Angle from_degrees(double degrees) {
    return Angle{degrees * std::numbers::pi / 180.0};
  }
  [[nodiscard]] constexpr double degrees() const { return radians * 180.0 / std::numbers::pi; }

  friend constexpr auto operator<=>(Angle, Angle) = default;
};

/// A duration in seconds, as shown to people and used by motion models.
struct Seconds {
  double value = 0;
  friend constexpr auto operator<=>(Seconds, Seconds) = default;
};

/// An amount of money in the minor unit of the shop's currency (cents). Never a fraction.
struct Money {
  std::int64_t minor = 0;

  friend constexpr auto operator<=>(Money, Money) = default;
  friend constexpr Money operator+(Money a, Money b) { return Money{a.minor + b.minor}; }
  friend constexpr Money operator-(Money a, Money b) { return Money{a.minor - b.minor}; }
};

namespace literals {
constexpr Mm operator""_mm(long double v) { return Mm{static_cast<double>(v)}; }
constexpr Mm operator""_mm(unsigned long long v) { return Mm{static_cast<double>(v)}; }
constexpr Angle operator""_deg(long double v) {
  return Angle::from_degrees(static_cast<double>(v));
}
constexpr Angle operator""_deg(unsigned long long v) {
  return Angle::from_degrees(static_cast<double>(v));
}
}  // namespace literals

}  // namespace film
