#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "../figure.h"
#include "base/text.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "parts.h"
#include "peer.h"
#include "support/surfaces.h"
#include "surface/detail/energy.h"
#include "surface/detail/geodesic.h"
#include "surface/detail/resettle.h"
#include "surface/flatten.h"
#include "surface/strain.h"

namespace film::bench {
namespace {

using namespace surface;

struct Timed {
  double seconds = 0;
  std::optional<std::vector<Vec2>> flat;
};

template <class Work>
Timed timed(const Work& work) {
  const host::Stopwatch watch;
  Timed result;
  result.flat = work();
  result.seconds = watch.seconds();
  return result;
}

std::optional<std::vector<Vec2>> ours(const TriMesh& mesh) {
  auto flat = flatten(mesh, {}, {});
  if (!flat) return std::nullopt;
  return std::move(flat->flat);
}

double mean_of(const TriMesh& mesh, const Timed& timed) {
  return timed.flat ? measure(mesh, *timed.flat).sd_mean : 0;
}

TriMesh panel(std::size_t side) { return test::hood(1500, 1200, 25, 60, 1.2, side, side); }

/// A line of a surface from one boundary vertex towards an inner one, two thirds of the way.
surface::detail::SurfacePath cut_line(const TriMesh& mesh, VertexIndex from, VertexIndex towards) {
  const std::vector<double> cost(mesh.points.size(), 1.0);
  const surface::detail::PathGraph graph(mesh, cost);
  const std::vector<surface::detail::PathGraph::Node> source{towards};
  auto path = graph.line(graph.from(source), from);
  path.resize(path.size() * 2 / 3);
  return path;
}

void warm_on(const std::string& name, const TriMesh& mesh, VertexIndex towards) {
  FlattenOptions options;
  options.mode = Mode::least_energy;
  const auto whole = flatten(mesh, options, {});
  if (!whole) return;
  const surface::detail::FilmEnergy energy(options.film);
  const auto loop = boundary_loops(mesh)[0];
  double at_rest = 0;
  const auto strains = triangle_strains(mesh, whole->flat);
  for (std::size_t t = 0; t < strains.size(); ++t) {
    // The film's frame is the major direction here: film that is the same both ways has no other.
    surface::detail::Mat2 j;
    j << 1 / strains[t].minor, 0, 0, 1 / strains[t].major;
    at_rest += length(area_vector(mesh, mesh.triangles[t])) / 2 * energy.value(j);
  }
  host::ThreadExecutor executor(2);
  const Context context({}, {}, &executor);
  double worst = 0;
  double sum = 0;
  double worst_gap = 0;
  constexpr std::size_t kPlaces = 8;
  for (std::size_t k = 0; k < kPlaces; ++k) {
    const auto path = cut_line(mesh, loop[loop.size() * k / kPlaces + 3], towards);
    const host::Stopwatch watch;
    const auto cut = surface::detail::cut_open(mesh, path);
    const auto warm = surface::detail::resettle(cut, whole->flat, energy, 1e-6, 2, context);
    const double ms = 1000 * watch.seconds();
    if (!warm) return;
    worst = std::max(worst, ms);
    sum += ms;
    const auto rest = surface::detail::resettle(cut, whole->flat, energy, 1e-9, 60, {});
    if (!rest) return;
    // Before the cut opens its energy is that of the whole.
    worst_gap = std::max(worst_gap,
                         (warm->energy - rest->energy) / std::max(at_rest - rest->energy, 1e-12));
  }
  say(format("{}, {} triangles, one cut moved to {} places: warm re-solve, mean and worst ms", name,
             mesh.triangles.size(), kPlaces),
      format("{:.0f}, {:.0f}", sum / kPlaces, worst), "50 ms",
      "cutting the mesh included; a leap on a coarse mesh and two Newton steps, on two threads",
      worst <= 50);
  say(format("{}: part of the way to the full rest that is left after the two steps, at worst",
             name),
      format("{:.2f} %", 100 * worst_gap), "reported", "against steps until nothing is gained",
      std::nullopt);
}

}  // namespace

void warm() {
  warm_on("cap", test::cap(600, 0.6, 58), 0);
  warm_on("hood with a lip", test::hood(1500, 1200, 60, 100, 2.0, 100, 100), 80 * 101 + 50);
}

void speed() {
  double before = 0;
  for (const std::size_t side : {71u, 224u, 708u}) {
    const TriMesh mesh = panel(side);
    const Timed own = timed([&] { return ours(mesh); });
    const double mean = mean_of(mesh, own);
    const std::string what = format("hood-like panel, {} triangles", mesh.triangles.size());
    say(what + ", neutral from a general start: seconds, mean symmetric Dirichlet",
        own.flat ? format("{:.2f}, {:.9f}", own.seconds, mean) : "failed", "reported", "one thread",
        std::nullopt);
    if (side == 224) {
      const Timed peer = timed([&] { return peer_rigid(mesh); });
      if (peer.flat) {
        say(what + ": CGAL's as-rigid-as-possible with UMFPACK, seconds, its mean; times as long",
            format("{:.1f}, {:.6f}; {:.0f}", peer.seconds, mean_of(mesh, peer),
                   peer.seconds / own.seconds),
            "at least 50 times as long as ours to a mean of at most 4.000705",
            "same run, one thread", peer.seconds >= 50 * own.seconds && mean <= 4.000705);
      }
    }
    if (side == 708) {
      const double exponent = std::log(own.seconds / before) / std::log(708.0 * 708 / (224 * 224));
      say("hood-like panel, growth of the time from 100 k to 1 M triangles",
          format("n^{:.2f}", exponent), "at most n^1.15", "the rows above", exponent <= 1.15);
      const Timed peer = timed([&] { return peer_conformal(mesh); });
      if (peer.flat) {
        say(what + ": CGAL's least-squares conformal map alone, seconds; our share of it",
            format("{:.1f}; 1/{:.1f}", peer.seconds, peer.seconds / own.seconds),
            "ours at most 1/5, to a mean of at most 4.000703", "same run, one thread",
            own.seconds <= peer.seconds / 5 && mean <= 4.000703);
      }
    }
    before = own.seconds;
  }
}

}  // namespace film::bench
