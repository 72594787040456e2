#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "surface/film.h"
#include "surface/tension.h"

namespace film::surface {

/// Principal stretches of one triangle, panel length over film length.
struct TriangleStrain {
  double major = 1;  ///< the greater stretch
  double minor = 1;  ///< the smaller one; below 1 the film is squeezed there
  Vec2 direction;    ///< unit, on the flat film, along which `major` acts
};

/// One for each triangle. `flat` is indexed like the surface's vertices and has no flips. O(n).
std::vector<TriangleStrain> triangle_strains(const TriMesh& surface, std::span<const Vec2> flat);

/// What the film will do on this panel, by area of the panel.
struct StrainReport {
  double area = 0;  ///< of the panel, mm^2
  /// Squeezed past the film's finger threshold, or, with a tension field, where more width than
  /// that has to go; mm^2.
  double finger_area = 0;
  double mark_area = 0;      ///< stretched past the mark limit, mm^2
  double over_area = 0;      ///< stretched past the tension limit along or across, mm^2
  double peak_stretch = 1;   ///< greatest major stretch
  double least_stretch = 1;  ///< smallest minor stretch
  /// Major stretch at 5, 25, 50, 75, 95, 99 % of the area, ascending.
  std::array<double, 6> percentiles{};
  double pull_back_length = 0;  ///< mm by which the laid film shortens at most when released
  // Known only with a tension field:
  std::size_t fingers = 0;    ///< how many are to be expected, a guess at a guessed spacing
  double longest_finger = 0;  ///< mm on the panel
  double finger_gathers = 0;  ///< film that the fullest takes up across, mm
  std::string verdict;        ///< one or two sentences for people
};

/// Fingers from the stretches alone: wherever the film is squeezed.
StrainReport report_strain(const TriMesh& surface, std::span<const Vec2> flat,
                           const FilmProperties& film);
/// Fingers from how the same piece settles (surface/tension.h): film that is pulled one way grows
/// narrower without folding, and folds reach as far as the tension carries them.
StrainReport report_strain(const TriMesh& surface, std::span<const Vec2> flat,
                           const FilmProperties& film, const TensionField& field);

}  // namespace film::surface
