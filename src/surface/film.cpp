#include "surface/film.h"

#include <cmath>
#include <string_view>

#include "base/text.h"

namespace film::surface {

Result<void> check(const FilmProperties& film) {
  const auto refuse = [&film](std::string_view field, double value, std::string_view rule) {
    return fail(ErrorCode::invalid_input, format("{} {} is not {}", field, value, rule),
                format("film \"{}\"", film.name), "Correct the film's properties");
  };
  const auto share = [](double x, double low, double high) {
    return std::isfinite(x) && x >= low && x <= high;
  };
  if (!share(film.elastic_limit, 0, 3))
    return refuse("elastic_limit", film.elastic_limit, "in [0, 3]");
  if (!share(film.tension_limit_along, 1e-4, 3)) {
    return refuse("tension_limit_along", film.tension_limit_along, "in [0.0001, 3]");
  }
  if (!share(film.tension_limit_across, 1e-4, 3)) {
    return refuse("tension_limit_across", film.tension_limit_across, "in [0.0001, 3]");
  }
  if (!share(film.mark_limit, film.elastic_limit, 5)) {
    return refuse("mark_limit", film.mark_limit, "between elastic_limit and 5");
  }
  if (!share(film.finger_threshold, 0, 0.5)) {
    return refuse("finger_threshold", film.finger_threshold, "in [0, 0.5]");
  }
  if (!share(film.pull_back, 0, 1)) return refuse("pull_back", film.pull_back, "in [0, 1]");
  if (!share(film.stiffness_ratio, 0.05, 20)) {
    return refuse("stiffness_ratio", film.stiffness_ratio, "in [0.05, 20]");
  }
  if (!share(film.contraction, 0, 0.5)) {
    return refuse("contraction", film.contraction, "in [0, 0.5]");
  }
  // Positive definite stiffness needs contraction^2 * ratio < 1; kept well inside.
  if (film.contraction * film.contraction * film.stiffness_ratio > 0.8) {
    return refuse("contraction", film.contraction, "small enough for this stiffness_ratio");
  }
  if (!share(film.squeeze_cost, 1, 1e4)) {
    return refuse("squeeze_cost", film.squeeze_cost, "in [1, 10000]");
  }
  return {};
}

}  // namespace film::surface
