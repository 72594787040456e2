#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/vehicle.h"
#include "surface/film.h"

namespace film::shop {

/// What a film is made for.
enum class FilmUse {
  paint,  ///< painted body panels
  trim,   ///< bare or gloss-black trim, sills, handles
  lamp,   ///< lamp lenses
  glass,  ///< windows
};

/// How the film looks once it is laid.
enum class Gloss { gloss, satin, matte };

/// A film that the shop works with.
struct Film {
  std::string id;    ///< stable: "clear-gloss"
  std::string name;  ///< for people
  FilmUse use = FilmUse::paint;
  Gloss gloss = Gloss::gloss;
  std::string colour = "#ffffff";  ///< for screens, "#rrggbb"; a clear film's tint
  double thickness_um = 150;       ///< micrometres, without liner
  surface::FilmProperties behaviour;
  pattern::Grain grain = pattern::Grain::square;  ///< how its pieces may lie on the roll
  std::vector<Finish> suits;                      ///< finishes it may go on

  friend bool operator==(const Film&, const Film&) = default;
};

/// Checks a film: id and name, a colour of the form given, a thickness a film can have, a
/// behaviour that `surface::check` accepts, at least one finish.
/// Errors: invalid_input naming the field.
Result<void> check(const Film& film);

/// Whether the film is made for the panel's finish.
bool suits(const Film& film, const Panel& panel);

}  // namespace film::shop
