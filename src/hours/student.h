#pragma once

namespace film::hours {

/// Student's t with a positive, not necessarily whole, number of degrees of freedom.
/// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.1 and 26.5.8 (the
/// incomplete beta function as a continued fraction). Good to ten digits up to a million degrees.

/// The chance of a value up to t.
double student_below(double t, double degrees);

/// The value that is not exceeded with `chance`, 0 < chance < 1.
double student_quantile(double chance, double degrees);

}  // namespace film::hours
