#pragma once

#include <string>

#include "base/result.h"

namespace film::surface {

/// What a film can take. Data, never constants: a shop keeps one of these for each film it uses
/// and corrects it by what it sees on its own panels (read and written by exchange/film_json.h).
///
/// The defaults describe no product. They are an invented shop's first guess at a soft, clear
/// protective film; each says on what it rests. Strains are engineering strains: panel length over
/// film length, less 1.
struct FilmProperties {
  std::string name = "invented shop default";

  /// Up to this stretch film keeps still once laid, and draws back in full if released.
  /// Basis: common practice, no source (a hood is reached by "about half an inch", under 1 %;
  /// a few percent are called welcome).
  double elastic_limit = 0.05;

  /// The most stretch to plan for, along and across the grain. Basis: invented; kept well under
  /// the mark limit.
  double tension_limit_along = 0.10;
  double tension_limit_across = 0.10;

  /// Stretch at which stretch marks are to be expected. Basis: invented.
  double mark_limit = 0.15;

  /// Squeeze (a positive number) above which film lifts into fingers instead of lying flat.
  /// Basis: invented; thin film buckles at very small squeeze, and glue hides only a little.
  double finger_threshold = 0.005;

  /// Share of its stretch that film gives back when it is released with hot water. Basis: invented.
  double pull_back = 0.7;

  /// Young's modulus along the grain over that across it; 1 is the same both ways. Basis: invented.
  double stiffness_ratio = 1.0;

  /// Contraction along the grain under a pull across it (Poisson's ratio). Basis: from memory,
  /// 0.4 to 0.5 for soft polymers.
  double contraction = 0.40;

  /// How many times costlier a squeeze is than a stretch of the same size, in the energy that
  /// least-energy flattening makes small. 1 treats both alike (linear elastic). Basis: invented;
  /// large because a squeezed film folds at once while a stretched one lies.
  double squeeze_cost = 25.0;

  friend bool operator==(const FilmProperties&, const FilmProperties&) = default;
};

/// Checks that the numbers can belong to a film: finite, limits positive and ordered, ratio in
/// [0.05, 20], contraction in [0, 0.5] and small enough for the ratio, squeeze_cost in [1, 1e4].
/// Errors: invalid_input naming the field.
Result<void> check(const FilmProperties& film);

}  // namespace film::surface
