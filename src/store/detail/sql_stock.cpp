// Films and rolls.

#include "store/detail/sql_stock.h"

#include "exchange/film_json.h"
#include "shop/names.h"
#include "store/detail/parsed.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::vector<shop::Film> SqlStock::films() { return films_where("'' = :value", ""); }

std::optional<shop::Film> SqlStock::film(const std::string& id) {
  auto found = films_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Film> SqlStock::films_where(const std::string& condition,
                                              const std::string& value) {
  shop::Film film;
  std::string made_for, gloss, grain, behaviour;
  soci::statement statement =
      (sql_.prepare << "SELECT id, name, made_for, gloss, colour, thickness_um, grain, behaviour"
                       " FROM films WHERE " +
                           condition + " ORDER BY name, id",
       into(film.id), into(film.name), into(made_for), into(gloss), into(film.colour),
       into(film.thickness_um), into(grain), into(behaviour), use(value));
  statement.execute();
  std::vector<shop::Film> films;
  while (statement.fetch()) {
    film.use = parsed<shop::FilmUse>(made_for);
    film.gloss = parsed<shop::Gloss>(gloss);
    film.grain = parsed<pattern::Grain>(grain);
    film.behaviour = kept(exchange::read_film(behaviour));
    films.push_back(film);
  }
  for (shop::Film& each : films) each.suits = finishes_of(each.id);
  return films;
}

std::vector<shop::Finish> SqlStock::finishes_of(const std::string& film) {
  std::string finish;
  soci::statement statement =
      (sql_.prepare << "SELECT finish FROM film_suits WHERE film = :film ORDER BY position",
       into(finish), use(film));
  statement.execute();
  std::vector<shop::Finish> finishes;
  while (statement.fetch()) finishes.push_back(parsed<shop::Finish>(finish));
  return finishes;
}

void SqlStock::put(const shop::Film& film) {
  const std::string made_for(name_of(film.use));
  const std::string gloss(name_of(film.gloss));
  const std::string grain(shop::name_of(film.grain));
  const std::string behaviour = exchange::write_film(film.behaviour);
  sql_ << "INSERT INTO films (id, name, made_for, gloss, colour, thickness_um, grain, behaviour)"
          " VALUES (:id, :name, :made_for, :gloss, :colour, :thickness, :grain, :behaviour)"
          " ON CONFLICT (id) DO UPDATE SET name = excluded.name, made_for = excluded.made_for,"
          " gloss = excluded.gloss, colour = excluded.colour,"
          " thickness_um = excluded.thickness_um, grain = excluded.grain, behaviour = "
          "excluded.behaviour",
      use(film.id), use(film.name), use(made_for), use(gloss), use(film.colour),
      use(film.thickness_um), use(grain), use(behaviour);
  sql_ << "DELETE FROM film_suits WHERE film = :film", use(film.id);
  int position = 0;
  for (const shop::Finish each : film.suits) {
    const std::string finish(name_of(each));
    sql_ << "INSERT INTO film_suits (film, position, finish) VALUES (:film, :position, :finish)",
        use(film.id), use(position), use(finish);
    ++position;
  }
}

}  // namespace film::store::detail
