#pragma once

#include <string>
#include <vector>

#include "geometry/trimesh.h"
#include "surface/film.h"
#include "surface/reach.h"
#include "surface/relief.h"
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
/// Where relief cuts that show little take the fingers and the overstretch away, they leave the
/// piece pre-cut. `strain` and `reach` are those of the surface's flat shape, `relief` what can be
/// cut (null: nothing was looked for). O(n).
Method choose_method(const TriMesh& surface, const StrainReport& strain, const Reach& reach,
                     const FilmProperties& film, const Relieved* relief = nullptr);

}  // namespace film::surface
