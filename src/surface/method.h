#pragma once

#include <string>
#include <vector>

#include "geometry/trimesh.h"
#include "surface/film.h"
#include "surface/reach.h"
#include "surface/strain.h"

namespace film::surface {

/// The two ways to cover a panel.
enum class Choice {
  precut,  ///< a piece cut to shape beforehand
  bulk,    ///< an uncut sheet laid over, stretched and trimmed by hand
};

/// A choice with what it rests on.
struct Method {
  Choice choice = Choice::precut;
  std::vector<std::string> reasons;  ///< sentences with numbers, the deciding one first
};

/// Chooses from what film does on the panel. A pre-cut piece must lie down at its own edge: bulk is
/// better where the surface squeezes or over-stretches it, or where it curls round so that the cut
/// edge cannot be placed by eye.
/// `strain` and `reach` are those of the surface's flat shape. O(n).
Method choose_method(const TriMesh& surface, const StrainReport& strain, const Reach& reach,
                     const FilmProperties& film);

}  // namespace film::surface
