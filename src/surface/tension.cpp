#include "surface/tension.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <Eigen/LU>

#include "base/text.h"
#include "surface/detail/fingers.h"
#include "surface/detail/newton.h"
#include "surface/detail/relaxed.h"
#include "surface/detail/start.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

using detail::RelaxedFilm;
using detail::RestShape;
using detail::Sym2;

/// Stretch of film of this Green strain along a direction.
double stretch_along(const Sym2& strain, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  const double e = strain[0] * c * c + strain[1] * s * s + 2 * strain[2] * c * s;
  return std::sqrt(std::max(1 + 2 * e, 0.0));
}

/// Angle of the greater principal value.
double principal_angle(double xx, double yy, double xy) {
  return 0.5 * std::atan2(2 * xy, xx - yy);
}

TriangleTension tension_of(const RelaxedFilm& film, const Sym2& strain) {
  const RelaxedFilm::State state = film.relax(strain);
  TriangleTension result;
  result.lie = state.lie;
  const double xx = state.stress[0];
  const double yy = state.stress[1];
  const double xy = state.stress[2] / 2;
  result.tension = (xx + yy) / 2 + std::hypot((xx - yy) / 2, xy);
  constexpr double kQuarter = std::numbers::pi / 2;
  double angle = 0;
  switch (state.lie) {
    case Lie::taut: angle = principal_angle(xx, yy, xy); break;
    case Lie::wrinkled: {
      angle = state.angle;
      const double has = stretch_along(strain, angle + kQuarter);
      result.surplus = 1 - has / std::sqrt(has * has + 2 * state.fold);
      break;
    }
    case Lie::slack:
      angle = principal_angle(strain[0], strain[1], strain[2]);
      result.surplus = 1 - stretch_along(strain, angle + kQuarter);
      break;
  }
  result.direction = {std::cos(angle), std::sin(angle)};
  return result;
}

std::vector<char> edge_vertices(const TriMesh& surface) {
  std::vector<char> on_edge(surface.points.size(), 0);
  const auto across = detail::sides_across(surface.triangles, surface.points.size());
  for (detail::SideIndex s = 0; s < across.size(); ++s) {
    if (across[s] != detail::kNoSide) continue;
    on_edge[detail::start_of(surface.triangles, s)] = 1;
    on_edge[detail::end_of(surface.triangles, s)] = 1;
  }
  return on_edge;
}

}  // namespace

Result<TensionField> settle(const TriMesh& surface, std::span<const Vec2> flat,
                            const FilmProperties& film, const TensionOptions& options,
                            const Context& context) {
  if (auto valid = check(film); !valid) return Failure(valid.error());
  if (flat.size() != surface.points.size() || surface.triangles.empty()) {
    return fail(ErrorCode::invalid_input, format("the flat shape has {} points and the surface {}",
                                                 flat.size(), surface.points.size()));
  }
  if (const std::size_t flips = detail::count_flips(surface.triangles, flat); flips > 0) {
    return fail(ErrorCode::invalid_input,
                format("{} triangles of the flat shape are turned over", flips), {},
                "Flatten the surface anew");
  }
  const std::vector<RestShape> shapes = detail::rest_shapes(surface);
  detail::Minimiser minimiser(surface.triangles, shapes, surface.points.size());
  const std::vector<char> held = edge_vertices(surface);
  TensionField field;
  field.settled.assign(flat.begin(), flat.end());
  // From film that resists folds to film that does not, so that each run starts near its end.
  for (double cost = 1;; cost = std::max(cost / 10, options.folding_cost)) {
    context.report("letting the film fold", -1);
    detail::NewtonGoal goal{1e-8, options.greatest_iterations};
    goal.held = held;
    const detail::RelaxedEnergy energy(film, cost);
    const auto outcome = minimiser.run(field.settled, energy, goal, context);
    if (!outcome) return Failure(outcome.error());
    field.iterations += outcome->steps;
    if (cost <= options.folding_cost) break;
  }
  const RelaxedFilm relaxed(film);
  field.triangles.reserve(shapes.size());
  for (std::size_t t = 0; t < shapes.size(); ++t) {
    const Triangle& c = surface.triangles[t];
    const detail::Mat2 j =
        shapes[t].map(field.settled[c[0]], field.settled[c[1]], field.settled[c[2]]);
    const Sym2 strain = detail::green_strain(j);
    field.triangles.push_back(tension_of(relaxed, strain));
    field.energy += shapes[t].area * j.determinant() * relaxed.relax(strain).value;
    switch (field.triangles.back().lie) {
      case Lie::taut: field.taut_area += shapes[t].area; break;
      case Lie::wrinkled: field.wrinkled_area += shapes[t].area; break;
      case Lie::slack: field.slack_area += shapes[t].area; break;
    }
  }
  field.areas = detail::find_fingers(surface, field.settled, field.triangles, film.finger_threshold,
                                     options.finger_spacing.value);
  return field;
}

}  // namespace film::surface
