// The shop itself, its films, rolls and plotters.

#include "exchange/film_json.h"
#include "exchange/profile_json.h"
#include "shop/names.h"
#include "shop/stock_ledger.h"
#include "store/detail/parsed.h"
#include "store/detail/sqlite_book.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::optional<shop::Settings> SqliteBook::settings() {
  shop::Settings s;
  std::string unit;
  int demo = 0;
  sql_ << "SELECT name, currency, length_unit, piece_gap, bulk_trim, outline_tolerance, demo"
          " FROM settings",
      into(s.name), into(s.currency), into(unit), into(s.piece_gap.value), into(s.bulk_trim.value),
      into(s.outline_tolerance.value), into(demo);
  if (!sql_.got_data()) return std::nullopt;
  s.length_unit = parsed<shop::LengthUnit>(unit);
  s.demo = demo != 0;
  return s;
}

void SqliteBook::put(const shop::Settings& s) {
  const std::string unit(name_of(s.length_unit));
  const int demo = s.demo;
  sql_ << "INSERT INTO settings (one, name, currency, length_unit, piece_gap, bulk_trim,"
          " outline_tolerance, demo) VALUES (1, :name, :currency, :unit, :gap, :trim, :tol, :demo)"
          " ON CONFLICT (one) DO UPDATE SET name = excluded.name, currency = excluded.currency,"
          " length_unit = excluded.length_unit, piece_gap = excluded.piece_gap,"
          " bulk_trim = excluded.bulk_trim, outline_tolerance = excluded.outline_tolerance,"
          " demo = excluded.demo",
      use(s.name), use(s.currency), use(unit), use(s.piece_gap.value), use(s.bulk_trim.value),
      use(s.outline_tolerance.value), use(demo);
}

std::vector<shop::Film> SqliteBook::films() { return films_where("'' = :value", ""); }

std::optional<shop::Film> SqliteBook::film(const std::string& id) {
  auto found = films_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Film> SqliteBook::films_where(const std::string& condition,
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

std::vector<shop::Finish> SqliteBook::finishes_of(const std::string& film) {
  std::string finish;
  soci::statement statement =
      (sql_.prepare << "SELECT finish FROM film_suits WHERE film = :film ORDER BY position",
       into(finish), use(film));
  statement.execute();
  std::vector<shop::Finish> finishes;
  while (statement.fetch()) finishes.push_back(parsed<shop::Finish>(finish));
  return finishes;
}

void SqliteBook::put(const shop::Film& film) {
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

std::vector<shop::Roll> SqliteBook::rolls() { return rolls_where("'' = :value", ""); }

std::optional<shop::Roll> SqliteBook::roll(const std::string& id) {
  auto found = rolls_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Roll> SqliteBook::rolls_where(const std::string& condition,
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

void SqliteBook::put(const shop::Roll& roll) {
  sql_ << "INSERT INTO rolls (id, film, lot, width, length, remaining, received, place)"
          " VALUES (:id, :film, :lot, :width, :length, :remaining, :received, :place)"
          " ON CONFLICT (id) DO UPDATE SET film = excluded.film, lot = excluded.lot,"
          " width = excluded.width, length = excluded.length, remaining = excluded.remaining,"
          " received = excluded.received, place = excluded.place",
      use(roll.id), use(roll.film), use(roll.lot), use(roll.width.value), use(roll.length.value),
      use(roll.remaining.value), use(roll.received), use(roll.place);
}

Result<void> SqliteBook::take_film(const std::string& id, const std::string& job, Mm length,
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

std::vector<shop::KnifeProfile> SqliteBook::profiles() { return profiles_where("'' = :value", ""); }

std::optional<shop::KnifeProfile> SqliteBook::profile(const std::string& id) {
  auto found = profiles_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::KnifeProfile> SqliteBook::profiles_where(const std::string& condition,
                                                           const std::string& value) {
  shop::KnifeProfile profile;
  std::string settings;
  soci::statement statement = (sql_.prepare << "SELECT id, settings FROM profiles WHERE " +
                                                   condition + " ORDER BY name, id",
                               into(profile.id), into(settings), use(value));
  statement.execute();
  std::vector<shop::KnifeProfile> profiles;
  while (statement.fetch()) {
    profile.settings = kept(exchange::read_profile(settings));
    profiles.push_back(profile);
  }
  return profiles;
}

void SqliteBook::put(const shop::KnifeProfile& profile) {
  const std::string settings = exchange::write_profile(profile.settings);
  sql_ << "INSERT INTO profiles (id, name, settings) VALUES (:id, :name, :settings)"
          " ON CONFLICT (id) DO UPDATE SET name = excluded.name, settings = excluded.settings",
      use(profile.id), use(profile.settings.name), use(settings);
}

}  // namespace film::store::detail
