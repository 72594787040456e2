// The shop itself and its machines.

#include "store/detail/sql_shop.h"

#include "exchange/profile_json.h"
#include "shop/names.h"
#include "store/detail/parsed.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::optional<shop::Settings> SqlShop::settings() {
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

void SqlShop::put(const shop::Settings& s) {
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

std::vector<shop::KnifeProfile> SqlShop::profiles() { return profiles_where("'' = :value", ""); }

std::optional<shop::KnifeProfile> SqlShop::profile(const std::string& id) {
  auto found = profiles_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::KnifeProfile> SqlShop::profiles_where(const std::string& condition,
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

void SqlShop::put(const shop::KnifeProfile& profile) {
  const std::string settings = exchange::write_profile(profile.settings);
  sql_ << "INSERT INTO profiles (id, name, settings) VALUES (:id, :name, :settings)"
          " ON CONFLICT (id) DO UPDATE SET name = excluded.name, settings = excluded.settings",
      use(profile.id), use(profile.settings.name), use(settings);
}

}  // namespace film::store::detail
