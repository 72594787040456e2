// Measures laying surfaces flat against exact answers; one JSON object a line (docs/evidence.md).
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>

#include "base/text.h"
#include "evidence_surface/parts.h"
#include "figure.h"
#include "formats/mesh.h"
#include "host/files.h"
#include "host/stop.h"
#include "support/least_ratio.h"
#include "support/surfaces.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/method.h"
#include "surface_mechanics.h"

namespace {

using namespace film;
using namespace film::surface;
using bench::say;

constexpr double kDegree = std::numbers::pi / 180;
const std::string kSurfaces = FILM_SOURCE_DIR "/../shared/data/surfaces/";

double processor_seconds() {
  return static_cast<double>(std::clock()) / static_cast<double>(CLOCKS_PER_SEC);
}

std::optional<TriMesh> shared_surface(const std::string& name) {
  const auto bytes = host::read_file(kSurfaces + name);
  if (!bytes) return std::nullopt;
  auto mesh = formats::read_mesh(*bytes, formats::MeshFormat::obj, formats::MeshUnit::m);
  if (!mesh) return std::nullopt;
  return std::move(*mesh);
}

std::optional<Flattening> laid(const TriMesh& mesh, Mode mode, FilmProperties film = {},
                               std::optional<Vec3> grain = std::nullopt) {
  FlattenOptions options;
  options.mode = mode;
  options.film = film;
  options.grain = grain;
  auto flat = flatten(mesh, options, {});
  if (!flat) return std::nullopt;
  return std::move(*flat);
}

double strain_of(const std::optional<Flattening>& f) {
  if (!f) return 1;
  return std::max(std::abs(f->stretch.min - 1), std::abs(f->stretch.max - 1));
}

void developables() {
  const TriMesh cylinder = test::cylinder(500, 90 * kDegree, 1000, 50, 50);
  const TriMesh cone = test::cone(20 * kDegree, 300, 1200, 162 * kDegree, 50, 50);
  for (const auto& [name, mesh] : {std::pair{"cylinder", &cylinder}, std::pair{"cone", &cone}}) {
    for (const auto& [mode, word] :
         {std::pair{Mode::neutral, "neutral"}, std::pair{Mode::least_energy, "film"}}) {
      const double strain = strain_of(laid(*mesh, mode));
      say(format("{}, 5000 triangles, {} mode: largest |stretch - 1|", name, word),
          format("{:.1e}", strain), "at most 1e-9", "developable: zero strain", strain <= 1e-9);
    }
  }
  for (const char* name : {"cylinder_5k.obj", "cone_5k.obj"}) {
    const auto mesh = shared_surface(name);
    if (!mesh) continue;
    const double strain = strain_of(laid(*mesh, Mode::neutral));
    say(format("{}: largest |stretch - 1|; no flat shape of the file has less than", name),
        format("{:.1e}; {:.1e}", strain, bench::least_strain_by_angles(*mesh)), "at most 1e-9",
        "developable but for the nine digits of its coordinates", strain <= 1e-9);
  }
  if (const auto mesh = shared_surface("reach_cylinder_8k.obj")) {
    const auto flat = laid(*mesh, Mode::neutral, {}, Vec3{0, 1, 0});
    const double needed = flat ? reach(flat->flat, {}, {}).stretch_needed : 0;
    const double exact = 2 * 78 * std::sin(1.56 / 2 / 78) / 1.524;
    say("reach_cylinder_8k.obj on a 60 in roll: stretch needed", format("{:.7f}", needed),
        format("{:.7f} within 1e-6", exact), "78 chords of the arc over the roll",
        std::abs(needed - exact) <= 1e-6);
  }
}

void caps() {
  const double alpha = 30 * kDegree;
  const std::string milnor = "Milnor 1969: no map of the sphere goes below 0.0461";
  // What the mesh allows: an interior-point method that knows its distance from the optimum.
  const auto with_limit = [&](const std::string& name, const TriMesh& mesh) {
    const auto even = laid(mesh, Mode::least_ratio);
    const double ratio = even ? even->stretch.log_ratio_max : 1;
    const auto least =
        even ? test::LeastRatio(mesh, even->flat).run(1e-7) : test::LeastRatio::Outcome{};
    say(name + ", least ratio: log ratio; the least that this mesh allows",
        format("{:.6f}; {:.6f} to within {:.0e}", ratio, least.log_ratio, least.gap),
        "at most 0.0462",
        milnor + "; a mesh is no sphere: tests/support/least_ratio.h finds its own limit",
        ratio <= 0.0462);
  };
  const TriMesh coarse = test::cap(1000, alpha, 41);
  with_limit(format("cap 30 degrees, {} triangles", coarse.triangles.size()), coarse);
  if (const auto mesh = shared_surface("cap30_10k.obj")) with_limit("cap30_10k.obj", *mesh);
  const TriMesh fine = test::cap(1000, alpha, 120);
  const auto even = laid(fine, Mode::least_ratio);
  const double ratio = even ? even->stretch.log_ratio_max : 1;
  say(format("the same cap, {} triangles, least ratio: log ratio", fine.triangles.size()),
      format("{:.6f}", ratio), "at most 0.0462", milnor, ratio <= 0.0462);
  const auto whole = laid(test::cap(1000, alpha, 41), Mode::no_compression);
  say("cap 30 degrees, no compression: peak and least stretch",
      whole ? format("{:.5f}, {:.6f}", whole->stretch.max, whole->stretch.min) : "failed",
      "peak at most 1.048, least at least 0.9999", "alpha / sin alpha = 1.0472",
      whole && whole->stretch.max <= 1.048 && whole->stretch.min >= 0.9999);
}

/// Stored energy and stresses of a shallow cap against the plate equation with a free edge.
void shallow_cap() {
  const double angle = 10 * kDegree;
  const double radius = 1000;
  const TriMesh mesh = test::cap(radius, angle, 48);
  FilmProperties film;
  film.squeeze_cost = 1;
  film.contraction = 0.3;
  const auto flat = laid(mesh, Mode::least_energy, film);
  if (!flat) return;
  const double a = radius * angle;
  const double nu = film.contraction;
  Vec2 centre;
  for (const Vec2 p : flat->flat) centre += p / static_cast<double>(flat->flat.size());
  double energy = 0;
  double square = 0;
  double area = 0;
  const auto strains = triangle_strains(mesh, flat->flat);
  for (std::size_t t = 0; t < strains.size(); ++t) {
    const Triangle& c = mesh.triangles[t];
    const Vec2 middle = (flat->flat[c[0]] + flat->flat[c[1]] + flat->flat[c[2]]) / 3.0 - centre;
    const double film_area =
        cross(flat->flat[c[1]] - flat->flat[c[0]], flat->flat[c[2]] - flat->flat[c[0]]) / 2;
    const double e1 = strains[t].major - 1;
    const double e2 = strains[t].minor - 1;
    const double s1 = (e1 + nu * e2) / (1 - nu * nu);
    const double s2 = (e2 + nu * e1) / (1 - nu * nu);
    energy += film_area * (e1 * s1 + e2 * s2) / 2;
    const double r = length(middle) / a;
    const bool radial =
        std::abs(dot(strains[t].direction, middle)) > std::sqrt(0.5) * length(middle);
    const double unit = angle * angle / 16;
    const double off_rr = (radial ? s1 : s2) - unit * (1 - r * r);
    const double off_tt = (radial ? s2 : s1) - unit * (1 - 3 * r * r);
    square += film_area * (off_rr * off_rr + off_tt * off_tt) / 2;
    area += film_area;
  }
  const double expected = std::numbers::pi * std::pow(a, 6) / (384 * std::pow(radius, 4));
  say("cap 10 degrees, linear film: energy over the closed form",
      format("{:.5f}", energy / expected), "1 within 1 %",
      "plate equation with a free edge, derived by hand", std::abs(energy / expected - 1) <= 0.01);
  const double rms = std::sqrt(square / area) / (angle * angle / 8);
  say("cap 10 degrees, linear film: root mean square error of stress over the rim's hoop stress",
      format("{:.4f}", rms), "at most 0.01", "the same", rms <= 0.01);
}

void whole_files() {
  for (const char* name : {"cap30_10k.obj", "saddle_10k.obj", "hood_10k.obj", "fender_arch_13k.obj",
                           "door_hole_10k.obj", "face.obj", "spothead.obj"}) {
    const auto mesh = shared_surface(name);
    if (!mesh) continue;
    for (const auto& [mode, words] :
         {std::pair{Mode::neutral, "neutral"}, std::pair{Mode::least_energy, "film mode"}}) {
      const double start = processor_seconds();
      const auto flat = laid(*mesh, mode);
      const double seconds = processor_seconds() - start;
      say(format("{}, {}: flips, overlaps, mean symmetric Dirichlet, seconds", name, words),
          flat ? format("{}, {}, {:.6f}, {:.2f}", flat->flips, flat->boundary_crossings,
                        flat->sd_mean, seconds)
               : "failed",
          "0 flips, 0 overlaps", "exact predicates",
          flat && flat->flips == 0 && flat->boundary_crossings == 0);
    }
  }
}

}  // namespace

/// bench_evidence_surface [PART...]: all parts, or those named.
int main(int argc, char** argv) {
  struct Part {
    std::string_view name;
    void (*run)();
  };
  const Part parts[] = {{"developables", developables},
                        {"caps", caps},
                        {"shallow", shallow_cap},
                        {"ring", bench::twisted_ring},
                        {"elements", bench::finite_elements},
                        {"cleaning", bench::cleaning},
                        {"files", whole_files},
                        {"warm", bench::warm},
                        {"speed", bench::speed},
                        {"demo", bench::demo_vehicle}};
  for (const Part& part : parts) {
    const bool named =
        std::any_of(argv + 1, argv + argc, [&](const char* name) { return part.name == name; });
    if (argc == 1 || named) part.run();
  }
}
