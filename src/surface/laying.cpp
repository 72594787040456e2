#include "surface/laying.h"

#include <utility>

#include "surface/visibility.h"

namespace film::surface {

Result<Laying> plan_laying(const TriMesh& surface, std::span<const Vec2> flat,
                           std::span<const TriangleStrain> strains, const StrainReport& report,
                           const Reach& reach, const FilmProperties& film,
                           const LayingOptions& options, const Context& context) {
  const std::vector<double> visibility =
      options.visibility.empty() ? usual_visibility(surface) : options.visibility;
  ReliefOptions relief_options;
  relief_options.visibility = visibility;
  auto relieved = plan_relief(surface, flat, film, relief_options, context);
  if (!relieved) return Failure(relieved.error());

  Laying laying;
  laying.method = choose_method(surface, report, reach, film, &*relieved);
  SeamOptions seam_options;
  seam_options.visibility = visibility;
  seam_options.reach = options.reach;
  auto seams = plan_seams(surface, flat, film, seam_options, context);
  if (!seams) return Failure(seams.error());
  laying.seams = std::move(*seams);
  laying.relief = std::move(relieved->plan);
  if (laying.method.choice == Choice::bulk) {
    laying.bulk = plan_bulk(surface, flat, strains, reach, film, options.bulk);
  }
  return laying;
}

}  // namespace film::surface
