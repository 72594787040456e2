// What films do to light, what meters read on windows, what was signed for.

#include "store/detail/sql_glass.h"

#include "shop/names.h"
#include "store/detail/parsed.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::optional<std::string> SqlGlass::film_optics(const std::string& film) {
  std::string layer;
  sql_ << "SELECT layer FROM film_optics WHERE film = :film", into(layer), use(film);
  if (!sql_.got_data()) return std::nullopt;
  return layer;
}

void SqlGlass::put_film_optics(const std::string& film, std::string_view layer) {
  const std::string text(layer);
  sql_ << "INSERT INTO film_optics (film, layer) VALUES (:film, :layer)"
          " ON CONFLICT (film) DO UPDATE SET layer = excluded.layer",
      use(film), use(text);
}

std::string SqlGlass::glass_place(const std::string& job) {
  std::string place;
  sql_ << "SELECT place FROM glass_places WHERE job = :job", into(place), use(job);
  return sql_.got_data() ? place : "";
}

void SqlGlass::put_glass_place(const std::string& job, const std::string& place) {
  sql_ << "INSERT INTO glass_places (job, place) VALUES (:job, :place)"
          " ON CONFLICT (job) DO UPDATE SET place = excluded.place",
      use(job), use(place);
}

std::vector<shop::GlassReading> SqlGlass::readings(const std::string& job) {
  shop::GlassReading reading;
  std::string stage;
  soci::statement statement =
      (sql_.prepare << "SELECT panel, stage, transmittance, uncertainty, meter, who, at"
                       " FROM glass_readings WHERE job = :job ORDER BY entry",
       into(reading.panel), into(stage), into(reading.transmittance), into(reading.uncertainty),
       into(reading.meter), into(reading.who), into(reading.at), use(job));
  statement.execute();
  std::vector<shop::GlassReading> readings;
  while (statement.fetch()) {
    reading.stage = parsed<shop::Stage>(stage);
    readings.push_back(reading);
  }
  return readings;
}

void SqlGlass::append(const std::string& job, const shop::GlassReading& r) {
  const std::string stage(name_of(r.stage));
  sql_ << "INSERT INTO glass_readings (job, panel, stage, transmittance, uncertainty, meter, who,"
          " at) VALUES (:job, :panel, :stage, :transmittance, :uncertainty, :meter, :who, :at)",
      use(job), use(r.panel), use(stage), use(r.transmittance), use(r.uncertainty), use(r.meter),
      use(r.who), use(r.at);
}

std::vector<shop::Decision> SqlGlass::decisions(const std::string& job) {
  shop::Decision decision;
  std::string concern;
  int go_ahead = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT panel, concern, go_ahead, signed_by, basis, at FROM decisions"
                       " WHERE job = :job ORDER BY entry",
       into(decision.panel), into(concern), into(go_ahead), into(decision.signed_by),
       into(decision.basis), into(decision.at), use(job));
  statement.execute();
  std::vector<shop::Decision> decisions;
  while (statement.fetch()) {
    decision.concern = parsed<shop::Concern>(concern);
    decision.go_ahead = go_ahead != 0;
    decisions.push_back(decision);
  }
  return decisions;
}

void SqlGlass::append(const std::string& job, const shop::Decision& d) {
  const std::string concern(name_of(d.concern));
  const int go_ahead = d.go_ahead;
  sql_ << "INSERT INTO decisions (job, panel, concern, go_ahead, signed_by, basis, at)"
          " VALUES (:job, :panel, :concern, :go_ahead, :signed_by, :basis, :at)",
      use(job), use(d.panel), use(concern), use(go_ahead), use(d.signed_by), use(d.basis),
      use(d.at);
}

}  // namespace film::store::detail
