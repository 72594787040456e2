#include "exchange/film_json.h"

#include <array>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/text.h"

namespace film::exchange {
namespace {

using surface::FilmProperties;

constexpr std::array<std::pair<std::string_view, double FilmProperties::*>, 9> kNumbers{
    {{"elastic_limit", &FilmProperties::elastic_limit},
     {"tension_limit_along", &FilmProperties::tension_limit_along},
     {"tension_limit_across", &FilmProperties::tension_limit_across},
     {"mark_limit", &FilmProperties::mark_limit},
     {"finger_threshold", &FilmProperties::finger_threshold},
     {"pull_back", &FilmProperties::pull_back},
     {"stiffness_ratio", &FilmProperties::stiffness_ratio},
     {"contraction", &FilmProperties::contraction},
     {"squeeze_cost", &FilmProperties::squeeze_cost}}};

Failure refuse(std::string what) {
  return fail(ErrorCode::invalid_input, std::move(what), "film",
              "See docs/formats/film.md for the keys");
}

}  // namespace

Result<FilmProperties> read_film(std::string_view json) {
  const auto root = nlohmann::json::parse(json, nullptr, false);
  if (root.is_discarded()) return refuse("the text is not JSON");
  if (!root.is_object()) return refuse("the film is not a JSON object");
  FilmProperties film;
  for (const auto& [key, value] : root.items()) {
    if (key == "name") {
      if (!value.is_string()) return refuse("\"name\" is not a text");
      film.name = value.get<std::string>();
      continue;
    }
    bool known = false;
    for (const auto& [name, field] : kNumbers) {
      if (key != name) continue;
      if (!value.is_number()) return refuse(format("\"{}\" is not a number", key));
      film.*field = value.get<double>();
      known = true;
    }
    if (!known) return refuse(format("the key \"{}\" is not known", key));
  }
  if (auto checked = surface::check(film); !checked) return Failure(checked.error());
  return film;
}

std::string write_film(const FilmProperties& film) {
  nlohmann::ordered_json root;
  root["name"] = film.name;
  for (const auto& [name, field] : kNumbers) root[std::string(name)] = film.*field;
  return root.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace film::exchange
