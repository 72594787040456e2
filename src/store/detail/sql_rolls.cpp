// Rolls, offcuts, their ledger, and what is kept in the rack.

#include <algorithm>

#include "base/text.h"
#include "exchange/stock_json.h"
#include "store/detail/parsed.h"
#include "store/detail/sql_stock.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::vector<shop::Roll> SqlStock::rolls() {
  return rolls_where("'' = :value AND id NOT IN (SELECT id FROM offcuts)", "");
}

std::optional<shop::Roll> SqlStock::roll(const std::string& id) {
  auto found = rolls_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Roll> SqlStock::rolls_where(const std::string& condition,
                                              const std::string& value) {
  shop::Roll roll;
  std::string defects;
  soci::statement statement =
      (sql_.prepare << "SELECT id, film, lot, width, length, remaining, received, place, defects"
                       " FROM rolls WHERE " +
                           condition + " ORDER BY film, received, id",
       into(roll.id), into(roll.film), into(roll.lot), into(roll.width.value),
       into(roll.length.value), into(roll.remaining.value), into(roll.received), into(roll.place),
       into(defects), use(value));
  statement.execute();
  std::vector<shop::Roll> rolls;
  while (statement.fetch()) {
    roll.defects = kept(exchange::read_defects(defects));
    rolls.push_back(roll);
  }
  return rolls;
}

void SqlStock::insert(const shop::Roll& roll) {
  const std::string defects = exchange::write_defects(roll.defects);
  sql_ << "INSERT INTO rolls (id, film, lot, width, length, remaining, received, place, defects)"
          " VALUES (:id, :film, :lot, :width, :length, :remaining, :received, :place, :defects)",
      use(roll.id), use(roll.film), use(roll.lot), use(roll.width.value), use(roll.length.value),
      use(roll.remaining.value), use(roll.received), use(roll.place), use(defects);
}

void SqlStock::append(const shop::StockLine& line) {
  const std::string verb(shop::name_of(line.verb));
  sql_ << "INSERT INTO stock_lines (roll, verb, change, job, who, why, at) VALUES (:roll, :verb,"
          " :change, :job, :who, :why, :at)",
      use(line.roll), use(verb), use(line.change.value), use(line.job), use(line.who),
      use(line.why), use(line.at);
}

std::string SqlStock::next_id(char letter) {
  const std::string like = format("{}-%", letter);
  std::string id;
  soci::statement statement =
      (sql_.prepare << "SELECT id FROM rolls WHERE id LIKE :like", into(id), use(like));
  statement.execute();
  unsigned long most = 0;
  while (statement.fetch()) {
    const std::string digits = id.substr(2);
    const bool counts = !digits.empty() && digits.size() < 10 &&
                        digits.find_first_not_of("0123456789") == std::string::npos;
    if (counts) most = std::max(most, std::stoul(digits));
  }
  return format("{}-{:04}", letter, most + 1);
}

Result<shop::Roll> SqlStock::receive(shop::Roll roll, const std::string& who,
                                     const std::string& at) {
  if (roll.id.empty()) roll.id = next_id('R');
  if (this->roll(roll.id)) {
    return fail(ErrorCode::conflict, "there is a roll of this id", "roll " + roll.id,
                "Leave the id out; the book gives one.");
  }
  roll.length = shop::booked(roll.length);
  roll.remaining = shop::booked(roll.remaining);
  insert(roll);
  append({roll.id, shop::StockVerb::received, roll.length, "", who, "", at});
  const Mm used = roll.length - roll.remaining;
  if (used > Mm{0}) {
    append({roll.id, shop::StockVerb::counted, -used, "", who, "used before", at});
  }
  return roll;
}

void SqlStock::update(const shop::Roll& roll) {
  const std::string defects = exchange::write_defects(roll.defects);
  sql_ << "UPDATE rolls SET lot = :lot, place = :place, defects = :defects WHERE id = :id",
      use(roll.lot), use(roll.place), use(defects), use(roll.id);
}

Result<shop::Roll> SqlStock::enter(const shop::StockLine& line) {
  const auto before = roll(line.roll);
  if (!before) {
    return fail(ErrorCode::not_found, "there is no such roll or offcut", "roll " + line.roll,
                "Choose one of those in stock.");
  }
  auto after = shop::after(*before, line);
  if (!after) return after;
  append(line);
  sql_ << "UPDATE rolls SET remaining = :remaining WHERE id = :id", use(after->remaining.value),
      use(after->id);
  return after;
}

std::vector<shop::StockLine> SqlStock::ledger(const std::string& roll) {
  shop::StockLine line;
  std::string verb;
  soci::statement statement =
      (sql_.prepare << "SELECT roll, verb, change, job, who, why, at FROM stock_lines"
                       " WHERE roll = :roll ORDER BY entry",
       into(line.roll), into(verb), into(line.change.value), into(line.job), into(line.who),
       into(line.why), into(line.at), use(roll));
  statement.execute();
  std::vector<shop::StockLine> lines;
  while (statement.fetch()) {
    line.verb = parsed<shop::StockVerb>(verb);
    lines.push_back(line);
  }
  return lines;
}

std::vector<shop::Offcut> SqlStock::offcuts() {
  return offcuts_where("'' = :value AND rolls.remaining >= rolls.length", "");
}

std::optional<shop::Offcut> SqlStock::offcut(const std::string& id) {
  auto found = offcuts_where("rolls.id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Offcut> SqlStock::offcuts_where(const std::string& condition,
                                                  const std::string& value) {
  shop::Offcut offcut;
  std::string outline;
  double length = 0;
  double remaining = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT rolls.id, film, lot, outline, source, run, received, place, length,"
                       " remaining FROM offcuts JOIN rolls ON rolls.id = offcuts.id WHERE " +
                           condition + " ORDER BY film, received, rolls.id",
       into(offcut.id), into(offcut.film), into(offcut.lot), into(outline), into(offcut.from),
       into(offcut.run), into(offcut.kept), into(offcut.place), into(length), into(remaining),
       use(value));
  statement.execute();
  std::vector<shop::Offcut> offcuts;
  while (statement.fetch()) {
    offcut.outline = kept(exchange::read_outline(outline));
    offcut.gone = remaining < length;
    offcuts.push_back(offcut);
  }
  return offcuts;
}

shop::Offcut SqlStock::add(shop::Offcut offcut, const std::string& who, const std::string& at) {
  offcut.id = next_id('O');
  offcut.gone = false;
  const shop::Roll roll = shop::as_roll(offcut);
  insert(roll);
  const std::string outline = exchange::write_outline(offcut.outline);
  sql_ << "INSERT INTO offcuts (id, outline, source, run) VALUES (:id, :outline, :source, :run)",
      use(offcut.id), use(outline), use(offcut.from), use(offcut.run);
  shop::StockLine line = shop::received(roll);
  line.who = who;
  line.why = offcut.from.empty() ? "kept by hand" : "rest of " + offcut.from;
  line.at = at;
  append(line);
  return offcut;
}

std::vector<shop::Supply> SqlStock::supplies() {
  shop::Supply s;
  soci::statement statement =
      (sql_.prepare << "SELECT film, width, minimum, roll_length, lead_days, areal_gsm, wound_um,"
                       " core_g, core_diameter FROM supplies ORDER BY film, width DESC",
       into(s.film), into(s.width.value), into(s.minimum.value), into(s.roll_length.value),
       into(s.lead_days), into(s.areal_gsm), into(s.wound_um), into(s.core_g),
       into(s.core_diameter));
  statement.execute();
  std::vector<shop::Supply> supplies;
  while (statement.fetch()) supplies.push_back(s);
  return supplies;
}

void SqlStock::put(const shop::Supply& s) {
  sql_ << "INSERT INTO supplies (film, width, minimum, roll_length, lead_days, areal_gsm, wound_um,"
          " core_g, core_diameter) VALUES (:film, :width, :minimum, :roll_length, :lead_days,"
          " :areal, :wound, :core, :diameter) ON CONFLICT (film, width) DO UPDATE SET minimum ="
          " excluded.minimum, roll_length = excluded.roll_length, lead_days = excluded.lead_days,"
          " areal_gsm = excluded.areal_gsm, wound_um = excluded.wound_um, core_g ="
          " excluded.core_g, core_diameter = excluded.core_diameter",
      use(s.film), use(s.width.value), use(s.minimum.value), use(s.roll_length.value),
      use(s.lead_days), use(s.areal_gsm), use(s.wound_um), use(s.core_g), use(s.core_diameter);
}

}  // namespace film::store::detail
