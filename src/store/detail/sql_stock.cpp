// Films and rolls.

#include "store/detail/sql_stock.h"

#include "exchange/film_json.h"
#include "shop/names.h"
#include "shop/stock_ledger.h"
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

std::vector<shop::Roll> SqlStock::rolls() { return rolls_where("'' = :value", ""); }

std::optional<shop::Roll> SqlStock::roll(const std::string& id) {
  auto found = rolls_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Roll> SqlStock::rolls_where(const std::string& condition,
                                              const std::string& value) {
  shop::Roll roll;
  soci::statement statement =
      (sql_.prepare << "SELECT id, film, lot, width, length, remaining, received, place FROM rolls"
                       " WHERE " +
                           condition + " ORDER BY film, received, id",
       into(roll.id), into(roll.film), into(roll.lot), into(roll.width.value),
       into(roll.length.value), into(roll.remaining.value), into(roll.received), into(roll.place),
       use(value));
  statement.execute();
  std::vector<shop::Roll> rolls;
  while (statement.fetch()) rolls.push_back(roll);
  return rolls;
}

void SqlStock::put(const shop::Roll& roll) {
  sql_ << "INSERT INTO rolls (id, film, lot, width, length, remaining, received, place)"
          " VALUES (:id, :film, :lot, :width, :length, :remaining, :received, :place)"
          " ON CONFLICT (id) DO UPDATE SET film = excluded.film, lot = excluded.lot,"
          " width = excluded.width, length = excluded.length, remaining = excluded.remaining,"
          " received = excluded.received, place = excluded.place",
      use(roll.id), use(roll.film), use(roll.lot), use(roll.width.value), use(roll.length.value),
      use(roll.remaining.value), use(roll.received), use(roll.place);
}

Result<void> SqlStock::take_film(const std::string& id, const std::string& job, Mm length,
                                 const std::string& at) {
  const auto before = roll(id);
  if (!before) {
    return fail(ErrorCode::not_found, "there is no such roll", "roll " + id,
                "Choose one of the rolls in stock.");
  }
  const auto line = shop::cut(*before, length, job);
  if (!line) return Failure(line.error());
  const auto after = shop::after(*before, *line);
  if (!after) return Failure(after.error());
  put(*after);
  sql_ << "INSERT INTO film_taken (roll, job, length, at) VALUES (:roll, :job, :length, :at)",
      use(id), use(job), use(length.value), use(at);
  return {};
}

}  // namespace film::store::detail
