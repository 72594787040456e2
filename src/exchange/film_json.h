#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "surface/film.h"

namespace film::exchange {

/// Film properties as JSON: one object whose keys are the fields of surface::FilmProperties
/// (docs/formats/film.md). Keys left out keep their defaults; unknown keys are refused, so that a
/// misspelt limit is not overlooked.
/// Errors: invalid_input (not JSON, wrong type, unknown key, a value `surface::check` refuses).
Result<surface::FilmProperties> read_film(std::string_view json);
std::string write_film(const surface::FilmProperties& film);

}  // namespace film::exchange
