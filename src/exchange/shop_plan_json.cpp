#include "exchange/shop_plan_json.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

#include <nlohmann/json.hpp>

#include "exchange/detail/json_place.h"
#include "planning/calendar.h"
#include "planning/scope.h"

namespace film::exchange {
namespace {

using detail::Place;
using detail::refuse;
using namespace planning;
using std::chrono::minutes;
using std::chrono::year_month_day;

constexpr std::array<const char*, 7> kDays{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

/// The whole numbers of a text such as "2026-06-01" between the given marks.
template <std::size_t Count>
std::array<int, Count> numbers(const Place& place, std::string_view marks, const char* form) {
  const std::string text = place.text();
  std::array<int, Count> found{};
  const char* at = text.data();
  const char* end = text.data() + text.size();
  for (std::size_t k = 0; k < Count; ++k) {
    if (k > 0 && (at == end || *at++ != marks[k - 1]))
      refuse("not a time or date", place.path, form);
    const auto [next, error] = std::from_chars(at, end, found[k]);
    if (error != std::errc() || found[k] < 0) refuse("not a time or date", place.path, form);
    at = next;
  }
  if (at != end) refuse("not a time or date", place.path, form);
  return found;
}

year_month_day checked_date(int year, int month, int day, const Place& place) {
  const year_month_day made{std::chrono::year(year),
                            std::chrono::month(static_cast<unsigned>(month)),
                            std::chrono::day(static_cast<unsigned>(day))};
  if (!made.ok() || year < 1970 || year > 2200) refuse("the date does not exist", place.path);
  return made;
}

year_month_day date_of(const Place& place) {
  const auto [year, month, day] = numbers<3>(place, "--", "Write 2026-06-01");
  return checked_date(year, month, day, place);
}

minutes checked_clock(int hour, int minute, const Place& place) {
  if (hour > 48 || minute > 59) refuse("not a time of day", place.path, "Write 08:00");
  return minutes(60 * hour + minute);
}

minutes clock_of(const Place& place) {
  const auto [hour, minute] = numbers<2>(place, ":", "Write 08:00");
  return checked_clock(hour, minute, place);
}

Instant instant_at(const Place& place, const Zone& zone) {
  const auto [year, month, day, hour, minute] = numbers<5>(place, "--T:", "Write 2026-06-01T08:00");
  const std::chrono::local_days date(checked_date(year, month, day, place));
  return instant_of(zone, Civil(date) + checked_clock(hour, minute, place));
}

Place few(const Place& list, std::size_t most) {
  if (list.size() > most) {
    refuse(format("more than {} entries", most), list.path, {}, ErrorCode::too_large);
  }
  return list;
}

double number_or(const Place& place, const char* key, double fallback, double least, double most) {
  const auto found = place.find(key);
  if (!found) return fallback;
  const double number = found->number();
  if (number < least || number > most) {
    refuse(format("the number must lie between {} and {}", least, most), found->path);
  }
  return number;
}

bool truth_or(const Place& place, const char* key) {
  const auto found = place.find(key);
  return found && found->truth();
}

std::vector<std::string> texts(const Place& list) {
  std::vector<std::string> all;
  for (std::size_t i = 0; i < few(list, 64).size(); ++i) all.push_back(list.item(i).text());
  return all;
}

std::size_t index_in(const std::vector<std::string>& names, const Place& place,
                     const std::string& name) {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end()) {
    refuse(format("\"{}\" is not in the list", name), place.path, {}, ErrorCode::not_found);
  }
  return static_cast<std::size_t>(found - names.begin());
}

template <class Value>
Value must(Result<Value> result, const Place& place) {
  if (result) return *std::move(result);
  Error error = result.error();
  error.where = error.where.empty() ? place.path : format("{}, {}", place.path, error.where);
  throw detail::Refusal{std::move(error)};
}

class Reader {
 public:
  Reader(const Place& file, const ZoneFinder& zones) : file_(file) {
    if (const auto zone = file.find("zone")) out_.shop.zone = must(zones(zone->text()), *zone);
  }

  ShopFile run() {
    Shop& shop = out_.shop;
    first_ = date_of(file_.at("from"));
    days_ = static_cast<int>(number_or(file_, "days", 60, 1, 400));
    shop.origin = instant_of(shop.zone, Civil(std::chrono::local_days(first_)));
    shop.step = minutes(static_cast<int>(number_or(file_, "step_minutes", 5, 1, 60)));
    shop.move = static_cast<Time>(number_or(file_, "move_minutes", 15, 0, 600) /
                                  static_cast<double>(shop.step.count()));
    shop.crowd = static_cast<int>(number_or(file_, "people_at_a_vehicle", 2, 2, 10));
    shop.skills = texts(file_.at("skills"));
    if (const auto features = file_.find("features")) shop.features = texts(*features);
    const Place bays = few(file_.at("bays"), 200);
    for (std::size_t i = 0; i < bays.size(); ++i) shop.bays.push_back(bay(bays.item(i)));
    const Place people = few(file_.at("people"), 200);
    for (std::size_t i = 0; i < people.size(); ++i) shop.people.push_back(person(people.item(i)));
    const Place jobs = few(file_.at("jobs"), 500);
    for (std::size_t i = 0; i < jobs.size(); ++i) out_.jobs.push_back(job(jobs.item(i)));
    if (const auto urgent = file_.find("urgent")) {
      out_.urgent = job(*urgent);
      if (out_.urgent->promise >= kNever)
        refuse("the time asked for is missing", urgent->path, "Give it as \"promise\"");
    }
    return std::move(out_);
  }

 private:
  Bay bay(const Place& place) const {
    Bay made{place.at("id").text(), {}};
    const auto features = place.find("features");
    for (const std::string& name : features ? texts(*features) : std::vector<std::string>{}) {
      made.features.push_back(index_in(out_.shop.features, *features, name));
    }
    return made;
  }

  Person person(const Place& place) const {
    const Shop& shop = out_.shop;
    Person made{place.at("id").text(), std::vector<int>(shop.skills.size(), 0), {}};
    const Place skills = place.at("skills");
    if (!skills.value.is_object()) refuse("an object of skill and level was expected", skills.path);
    for (const auto& [name, level] : skills.value.items()) {
      made.levels[index_in(shop.skills, skills, name)] =
          static_cast<int>(number_or(skills, name.c_str(), 0, 0, 9));
    }
    Calendar calendar;
    calendar.name = made.id;
    const Place week = place.at("week");
    for (std::size_t d = 0; d < kDays.size(); ++d) {
      if (const auto day = week.find(kDays[d])) calendar.week[d] = shifts(*day);
    }
    if (const auto holidays = file_.find("holidays")) {
      for (std::size_t i = 0; i < few(*holidays, 400).size(); ++i) {
        calendar.holidays.push_back(date_of(holidays->item(i)));
      }
    }
    if (const auto away = place.find("away")) {
      for (std::size_t i = 0; i < few(*away, 400).size(); ++i) {
        calendar.absences.push_back({instant_at(away->item(i).at("from"), shop.zone),
                                     instant_at(away->item(i).at("until"), shop.zone)});
      }
    }
    const std::chrono::local_days last = std::chrono::local_days(first_) + std::chrono::days(days_);
    made.hours =
        on_steps(must(working_time(calendar, shop.zone, first_, year_month_day(last)), place),
                 shop.origin, shop.step);
    return made;
  }

  static std::vector<Shift> shifts(const Place& list) {
    std::vector<Shift> all;
    for (std::size_t i = 0; i < few(list, 8).size(); ++i) {
      const Place one = list.item(i);
      Shift shift{{clock_of(one.at("from")), clock_of(one.at("until"))}, {}};
      if (const auto breaks = one.find("breaks")) {
        for (std::size_t k = 0; k < few(*breaks, 8).size(); ++k) {
          const Place pause = breaks->item(k);
          shift.breaks.push_back({clock_of(pause.at("from")), clock_of(pause.at("until"))});
        }
      }
      all.push_back(std::move(shift));
    }
    return all;
  }

  [[nodiscard]] Time step_at(const Place& place) const {
    const auto since = instant_at(place, out_.shop.zone) - out_.shop.origin;
    const auto steps = since / out_.shop.step;
    if (steps < 0 || steps > 1000000) refuse("the time is outside the calendar", place.path);
    return static_cast<Time>(steps);
  }

  static std::vector<ZoneWork> zones(const std::optional<Place>& list) {
    std::vector<ZoneWork> all;
    if (!list) return all;
    for (std::size_t i = 0; i < few(*list, 200).size(); ++i) {
      const Place one = list->item(i);
      all.push_back({one.at("id").text(), number_or(one, "hours", 1, 0.01, 200),
                     number_or(one, "spread", 0.2, 0, 2), truth_or(one, "bulk")});
    }
    return all;
  }

  Job job(const Place& place) const {
    const Place given = place.at("scope");
    Scope scope;
    scope.zones = zones(given.find("zones"));
    scope.windows = zones(given.find("windows"));
    scope.lamps = zones(given.find("lamps"));
    scope.correction_hours = number_or(given, "correction_hours", 0, 0, 200);
    scope.badges = truth_or(given, "badges");
    scope.coats = static_cast<int>(number_or(given, "coats", 0, 0, 10));
    scope.windows_first = truth_or(given, "windows_first");
    Job made = must(job_of(out_.shop, usual_templates(), scope, place.at("id").text()), place);
    if (const auto arrives = place.find("arrives")) made.arrives = step_at(*arrives);
    if (const auto promise = place.find("promise")) made.promise = step_at(*promise);
    made.weight = number_or(place, "weight", 1, 0.01, 100);
    return made;
  }

  const Place& file_;
  ShopFile out_;
  year_month_day first_;
  int days_ = 0;
};

using Json = nlohmann::ordered_json;

Json time_or_null(const Shop& shop, Time t) {
  if (t >= kNever) return nullptr;
  const Civil civil = civil_of(shop.zone, shop.origin + t * shop.step);
  const auto day = std::chrono::floor<std::chrono::days>(civil);
  const year_month_day date(day);
  const auto minute = (civil - day).count();
  return format("{:04}-{:02}-{:02}T{:02}:{:02}", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), minute / 60,
                minute % 60);
}

Json json_of(const Shop& shop, const Job& job, const JobPlan& plan) {
  Json tasks = Json::array();
  for (std::size_t i = 0; i < plan.slots.size(); ++i) {
    Json people = Json::array();
    for (const std::size_t p : plan.slots[i].people) people.push_back(shop.people[p].id);
    const auto stage = job.tasks[i].stage;
    tasks.push_back({{"task", job.tasks[i].id},
                     {"from", time_or_null(shop, plan.slots[i].span.from)},
                     {"until", time_or_null(shop, plan.slots[i].span.until)},
                     {"people", people},
                     {"bay", stage ? Json(shop.bays[plan.bays[*stage]].id) : Json(nullptr)}});
  }
  return {{"job", job.id},
          {"end", time_or_null(shop, plan.end())},
          {"promise", time_or_null(shop, job.promise)},
          {"kept", plan.end() <= job.promise},
          {"tasks", tasks}};
}

Json json_of(const ShopFile& file, const std::vector<Slip>& slips) {
  Json list = Json::array();
  for (const Slip& slip : slips) {
    list.push_back({{"job", file.jobs[slip.job].id},
                    {"promise", time_or_null(file.shop, slip.promised)},
                    {"before", time_or_null(file.shop, slip.before)},
                    {"after", time_or_null(file.shop, slip.after)}});
  }
  return list;
}

const char* name_of(Fits fits) {
  switch (fits) {
    case Fits::yes: return "yes";
    case Fits::no: return "no";
    case Fits::not_found: break;
  }
  return "not_found";
}

}  // namespace

Result<ShopFile> read_shop_file(std::string_view bytes, const ZoneFinder& zones) {
  static constexpr std::size_t kMostBytes = std::size_t{8} << 20;
  if (bytes.size() > kMostBytes) {
    return fail(ErrorCode::too_large, "the file is past the limit of 8 MB", "file");
  }
  const nlohmann::json json = nlohmann::json::parse(bytes, nullptr, false);
  if (json.is_discarded()) {
    return fail(ErrorCode::invalid_input, "this is not JSON, or it is cut short", "file");
  }
  try {
    return Reader(Place{json, ""}, zones).run();
  } catch (detail::Refusal& refusal) {
    if (refusal.error.where.empty()) refusal.error.where = "file";
    return Failure(std::move(refusal.error));
  }
}

std::string write_shop_outcome(const ShopFile& file, const ShopOutcome& outcome) {
  const Shop& shop = file.shop;
  Json out;
  out["jobs"] = Json::array();
  for (std::size_t j = 0; j < file.jobs.size(); ++j) {
    Json job = json_of(shop, file.jobs[j], outcome.answer.plan[j]);
    job["sure"] = time_or_null(shop, outcome.sure[j]);
    out["jobs"].push_back(std::move(job));
  }
  out["shortage"] = outcome.shortage ? Json(outcome.shortage->reason) : Json(nullptr);
  out["notes"] = outcome.answer.notes;
  out["iterations"] = outcome.answer.iterations;
  if (outcome.promise && outcome.rush) {
    Json remedies = Json::array();
    for (const Remedy& remedy : outcome.rush->remedies) {
      remedies.push_back({{"what", remedy.text},
                          {"in_time", remedy.in_time},
                          {"still_slip", json_of(file, remedy.left)}});
    }
    out["urgent"] = {{"job", file.urgent->id},
                     {"planned_end", time_or_null(shop, outcome.promise->planned)},
                     {"earliest_promise", time_or_null(shop, outcome.promise->promise)},
                     {"fits", name_of(outcome.rush->urgent.fits)},
                     {"reason", outcome.rush->urgent.reason},
                     {"slips", json_of(file, outcome.rush->slips)},
                     {"remedies", std::move(remedies)}};
  }
  return out.dump(2) + "\n";
}

}  // namespace film::exchange
