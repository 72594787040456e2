#pragma once

#include <optional>
#include <span>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "geometry/trimesh.h"
#include "surface/bulk.h"
#include "surface/method.h"
#include "surface/reach.h"
#include "surface/relief.h"
#include "surface/seam.h"
#include "surface/strain.h"

namespace film::surface {

/// How a panel is covered: all that the installer has to know beyond the flat shape.
struct Laying {
  Method method;
  Relief relief;
  SeamPlan seams;
  std::optional<BulkPlan> bulk;  ///< only when the method is bulk
};

struct LayingOptions {
  std::vector<double> visibility;  ///< of the surface's vertices; empty: usual_visibility
  ReachOptions reach;
  BulkOptions bulk;
};

/// Relief cuts first; then the method with them in view; seams where one piece does not do even so;
/// the plan of the sheet where the method is bulk. `flat` is the surface's rest under least energy,
/// `strains`, `report` and `reach` are those of `flat`.
/// Errors: cancelled.
Result<Laying> plan_laying(const TriMesh& surface, std::span<const Vec2> flat,
                           std::span<const TriangleStrain> strains, const StrainReport& report,
                           const Reach& reach, const FilmProperties& film,
                           const LayingOptions& options, const Context& context);

}  // namespace film::surface
