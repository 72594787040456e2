#include <string>

#include "../figure.h"
#include "base/text.h"
#include "demo/vehicle.h"
#include "host/stop.h"
#include "parts.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/laying.h"
#include "surface/visibility.h"

namespace film::bench {

using namespace surface;

void demo_vehicle() {
  const auto vehicle = demo::make_vehicle();
  std::size_t bulk = 0;
  std::size_t refused = 0;
  std::size_t cuts = 0;
  std::size_t seams = 0;
  std::string hood = "missing";
  std::string door = "missing";
  std::string corner = "missing";
  const FilmProperties film;
  const host::Stopwatch watch;
  for (const auto& panel : vehicle.panels) {
    const auto clean = surface::clean(panel.surface, {}, {});
    FlattenOptions options;
    options.mode = Mode::least_energy;
    options.film = film;
    options.grain = Vec3{1, 0, 0};
    const auto laid = clean ? flatten(clean->mesh, options, {}) : Failure(clean.error());
    if (!laid) {
      ++refused;
      continue;
    }
    const auto strains = triangle_strains(clean->mesh, laid->flat);
    const auto report = report_strain(clean->mesh, laid->flat, film);
    LayingOptions laying_options;
    laying_options.visibility = usual_visibility(clean->mesh, Vec3{0, 0, 1});
    laying_options.bulk.directions = Directions::of_vehicle;
    const auto laying = plan_laying(clean->mesh, laid->flat, strains, report,
                                    reach(laid->flat, film, {}), film, laying_options, {});
    if (!laying) {
      ++refused;
      continue;
    }
    const bool is_bulk = laying->method.choice == Choice::bulk;
    bulk += is_bulk ? 1 : 0;
    cuts += laying->relief.cuts.size();
    seams += laying->seams.seams.size();
    const std::string words = (is_bulk ? "bulk: " : "pre-cut: ") + laying->method.reasons.front();
    if (panel.id == "hood") hood = words;
    if (panel.id == "door_front_left") door = words;
    if (panel.id == "rear_bumper_corner_left") {
      corner = format("{} relief cuts; {}", laying->relief.cuts.size(), words);
    }
  }
  const double seconds = watch.seconds();
  say(format("demo vehicle, {} panels: seconds, refused, bulk sheets, relief cuts, seams",
             vehicle.panels.size()),
      format("{:.1f}, {}, {}, {}, {}", seconds, refused, bulk, cuts, seams),
      "under 10 s, none refused",
      "every panel: least-energy flat shape, strain, reach, relief, seams, method, bulk plan; one "
      "thread, twins anew",
      seconds < 10 && refused == 0);
  say("demo vehicle, hood with a lip", hood, "bulk, with the reason", "common practice, no source",
      hood.starts_with("bulk"));
  say("demo vehicle, flat door", door, "pre-cut", "common practice, no source",
      door.starts_with("pre-cut"));
  say("demo vehicle, bumper corner", corner, "relief cuts or a bulk sheet",
      "common practice, no source",
      corner.find("bulk") != std::string::npos || !corner.starts_with("0"));
}

}  // namespace film::bench
