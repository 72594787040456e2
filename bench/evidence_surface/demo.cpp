#include <string>
#include <vector>

#include "../figure.h"
#include "base/text.h"
#include "demo/vehicle.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "parts.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/laying.h"
#include "surface/visibility.h"

namespace film::bench {

using namespace surface;

namespace {

struct Studied {
  bool refused = true;
  bool bulk = false;
  std::size_t cuts = 0;
  std::size_t seams = 0;
  std::string words;
};

Studied studied(const TriMesh& surface, const FilmProperties& film) {
  const auto clean = surface::clean(surface, {}, {});
  if (!clean) return {};
  FlattenOptions options;
  options.mode = Mode::least_energy;
  options.film = film;
  options.grain = Vec3{1, 0, 0};
  const auto laid = flatten(clean->mesh, options, {});
  if (!laid) return {};
  const auto strains = triangle_strains(clean->mesh, laid->flat);
  const auto report = report_strain(clean->mesh, laid->flat, film);
  LayingOptions laying_options;
  laying_options.visibility = usual_visibility(clean->mesh, Vec3{0, 0, 1});
  laying_options.bulk.directions = Directions::of_vehicle;
  const auto laying = plan_laying(clean->mesh, laid->flat, strains, report,
                                  reach(laid->flat, film, {}), film, laying_options, {});
  if (!laying) return {};
  const bool bulk = laying->method.choice == Choice::bulk;
  return {false, bulk, laying->relief.cuts.size(), laying->seams.seams.size(),
          (bulk ? "bulk: " : "pre-cut: ") + laying->method.reasons.front()};
}

}  // namespace

void demo_vehicle() {
  const auto vehicle = demo::make_vehicle();
  const FilmProperties film;
  std::vector<Studied> panels(vehicle.panels.size());
  host::ThreadExecutor executor(2);
  const host::Stopwatch watch;
  executor.run(panels.size(),
               [&](std::size_t i) { panels[i] = studied(vehicle.panels[i].surface, film); });
  const double seconds = watch.seconds();
  std::size_t bulk = 0;
  std::size_t refused = 0;
  std::size_t cuts = 0;
  std::size_t seams = 0;
  std::string hood = "missing";
  std::string door = "missing";
  std::string corner = "missing";
  for (std::size_t i = 0; i < panels.size(); ++i) {
    const Studied& one = panels[i];
    refused += one.refused ? 1 : 0;
    bulk += one.bulk ? 1 : 0;
    cuts += one.cuts;
    seams += one.seams;
    const std::string& id = vehicle.panels[i].id;
    if (id == "hood") hood = one.words;
    if (id == "door_front_left") door = one.words;
    if (id == "rear_bumper_corner_left") {
      corner = format("{} relief cuts; {}", one.cuts, one.words);
    }
  }
  say(format("demo vehicle, {} panels: seconds, refused, bulk sheets, relief cuts, seams",
             vehicle.panels.size()),
      format("{:.1f}, {}, {}, {}, {}", seconds, refused, bulk, cuts, seams),
      "under 10 s, none refused",
      "every panel: least-energy flat shape, strain, reach, relief, seams, method, bulk plan; two "
      "threads, twins anew",
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
