#pragma once

#include <array>
#include <span>
#include <string>
#include <vector>

#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "surface/film.h"

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
  double area = 0;           ///< of the panel, mm^2
  double finger_area = 0;    ///< squeezed past the film's finger threshold, mm^2
  double mark_area = 0;      ///< stretched past the mark limit, mm^2
  double over_area = 0;      ///< stretched past the tension limit along or across, mm^2
  double peak_stretch = 1;   ///< greatest major stretch
  double least_stretch = 1;  ///< smallest minor stretch
  /// Major stretch at 5, 25, 50, 75, 95, 99 % of the area, ascending.
  std::array<double, 6> percentiles{};
  double pull_back_length = 0;  ///< mm by which the laid film shortens at most when released
  std::string verdict;          ///< one or two sentences for people
};

StrainReport report_strain(const TriMesh& surface, std::span<const Vec2> flat,
                           const FilmProperties& film);

}  // namespace film::surface
