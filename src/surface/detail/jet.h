#pragma once

#include <array>
#include <cstddef>

namespace film::surface::detail {

/// A number with its first and second derivatives by four variables (forward differentiation).
struct Jet {
  static constexpr std::size_t kVariables = 4;
  static constexpr std::size_t kPairs = 10;  // (0,0) (0,1) (0,2) (0,3) (1,1) ... (3,3)

  double value = 0;
  std::array<double, kVariables> d{};
  std::array<double, kPairs> dd{};

  Jet() = default;
  explicit Jet(double constant) : value(constant) {}
  static Jet variable(double at, std::size_t index) {
    Jet x(at);
    x.d[index] = 1;
    return x;
  }

  friend Jet operator+(Jet a, const Jet& b) {
    a.value += b.value;
    for (std::size_t i = 0; i < kVariables; ++i) a.d[i] += b.d[i];
    for (std::size_t i = 0; i < kPairs; ++i) a.dd[i] += b.dd[i];
    return a;
  }
  friend Jet operator*(double k, Jet a) {
    a.value *= k;
    for (double& x : a.d) x *= k;
    for (double& x : a.dd) x *= k;
    return a;
  }
  friend Jet operator-(const Jet& a, const Jet& b) { return a + (-1.0) * b; }
  friend Jet operator+(Jet a, double k) {
    a.value += k;
    return a;
  }
  friend Jet operator*(const Jet& a, const Jet& b) {
    Jet r(a.value * b.value);
    for (std::size_t i = 0; i < kVariables; ++i) r.d[i] = a.d[i] * b.value + a.value * b.d[i];
    std::size_t k = 0;
    for (std::size_t i = 0; i < kVariables; ++i) {
      for (std::size_t j = i; j < kVariables; ++j, ++k) {
        r.dd[k] = a.dd[k] * b.value + a.value * b.dd[k] + a.d[i] * b.d[j] + a.d[j] * b.d[i];
      }
    }
    return r;
  }
  friend Jet inverse(const Jet& a) {
    const double f = 1 / a.value;
    const double f1 = -f * f;
    const double f2 = 2 * f * f * f;
    Jet r(f);
    for (std::size_t i = 0; i < kVariables; ++i) r.d[i] = f1 * a.d[i];
    std::size_t k = 0;
    for (std::size_t i = 0; i < kVariables; ++i) {
      for (std::size_t j = i; j < kVariables; ++j, ++k) {
        r.dd[k] = f1 * a.dd[k] + f2 * a.d[i] * a.d[j];
      }
    }
    return r;
  }
};

inline double inverse(double a) { return 1 / a; }
inline double value_of(double a) { return a; }
inline double value_of(const Jet& a) { return a.value; }

}  // namespace film::surface::detail
