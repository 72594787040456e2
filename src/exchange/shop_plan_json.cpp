#include "exchange/shop_plan_json.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <utility>

#include <nlohmann/json.hpp>

#include "exchange/detail/json_place.h"
#include "exchange/detail/templates_json.h"
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

/// "2026-06-01T08:00" by the wall clock, or with a Z in UTC.
Instant instant_at(const Place& place, const Zone& zone) {
  const std::string text = place.text();
  if (!text.empty() && text.back() == 'Z') {
    const nlohmann::json bare(text.substr(0, text.size() - 1));
    return instant_at(Place{bare, place.path}, Zone{});
  }
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
    const auto templates = file_.find("templates");
    out_.templates = templates ? detail::read_templates(*templates) : usual_templates();
    if (const auto clock = file_.find("clock")) out_.clock = instant_at(*clock, shop.zone);
    const Place jobs = few(file_.at("jobs"), 500);
    for (std::size_t i = 0; i < jobs.size(); ++i) add(job(jobs.item(i)));
    if (const auto urgent = file_.find("urgent")) {
      out_.urgent = job(*urgent).job;
      if (out_.urgent->promise >= kNever)
        refuse("the time asked for is missing", urgent->path, "Give it as \"promise\"");
    }
    return std::move(out_);
  }

  /// A job for a shop that was read already.
  Reader(const Place& file, const ShopFile& known) : file_(file), out_(known) {}
  std::pair<Job, std::string> one_job() {
    Read read = job(file_);
    return {std::move(read.job), std::move(read.title)};
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
    if (const auto special = place.find("special")) {
      for (std::size_t i = 0; i < few(*special, 400).size(); ++i) {
        const Place one = special->item(i);
        calendar.specials.push_back({date_of(one.at("date")), shifts(one.at("shifts"))});
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

  /// A job with what the file says of its progress and plan.
  struct Read {
    Job job;
    std::string title;
    std::vector<char> finished;
    JobPlan plan;
  };

  void add(Read read) {
    out_.jobs.push_back(std::move(read.job));
    out_.titles.push_back(std::move(read.title));
    out_.finished.push_back(std::move(read.finished));
    out_.running.push_back(std::move(read.plan));
  }

  Read job(const Place& place) const {
    Read read;
    const std::string id = place.at("id").text();
    read.title = detail::text_or(place, "title", id);
    if (place.find("tasks")) {
      read.job.id = id;
      read_tasks(place, read);
    } else {
      read.job = must(job_of(out_.shop, out_.templates, scope(place.at("scope")), id), place);
    }
    read.finished.resize(read.job.tasks.size(), 0);
    if (const auto arrives = place.find("arrives")) read.job.arrives = step_at(*arrives);
    if (const auto promise = place.find("promise")) read.job.promise = step_at(*promise);
    read.job.weight = number_or(place, "weight", 1, 0.01, 100);
    return read;
  }

  static Scope scope(const Place& given) {
    Scope scope;
    scope.zones = zones(given.find("zones"));
    scope.windows = zones(given.find("windows"));
    scope.lamps = zones(given.find("lamps"));
    scope.correction_hours = number_or(given, "correction_hours", 0, 0, 200);
    scope.badges = truth_or(given, "badges");
    scope.coats = static_cast<int>(number_or(given, "coats", 0, 0, 10));
    scope.windows_first = truth_or(given, "windows_first");
    return scope;
  }

  /// Tasks given one by one, as the shop's book keeps them.
  void read_tasks(const Place& place, Read& read) const {
    Job& job = read.job;
    const Shop& shop = out_.shop;
    std::vector<std::string> ids;
    bool planned = true;
    const Place tasks = few(place.at("tasks"), 1000);
    for (std::size_t i = 0; i < tasks.size(); ++i) {
      const Place one = tasks.item(i);
      ShopTask task;
      task.id = one.at("id").text();
      if (std::find(ids.begin(), ids.end(), task.id) != ids.end()) {
        refuse(format("\"{}\" is there twice", task.id), one.path);
      }
      ids.push_back(task.id);
      task.work = static_cast<Time>(std::ceil(number_or(one, "work_minutes", 0, 0, 1e5) /
                                              static_cast<double>(shop.step.count())));
      task.spread = number_or(one, "spread", 0, 0, 2);
      task.plotter = truth_or(one, "plotter");
      if (truth_or(one, "in_one_go")) task.pause = Pause::never;
      if (const auto stage = one.find("stage")) task.stage = stage->index();
      if (const auto hands = one.find("hands")) {
        for (std::size_t h = 0; h < few(*hands, 8).size(); ++h) {
          const Place hand = hands->item(h);
          task.hands.push_back({index_in(shop.skills, hand.at("skill"), hand.at("skill").text()),
                                static_cast<int>(number_or(hand, "level", 1, 1, 9))});
        }
      }
      if (const auto begun = one.find("begun")) task.fixed = slot(*begun);
      read.finished.push_back(truth_or(one, "finished") ? 1 : 0);
      const auto plan = one.find("plan");
      planned = planned && (plan || task.fixed);
      read.plan.slots.push_back(task.fixed ? *task.fixed : plan ? slot(*plan) : Slot{});
      job.tasks.push_back(std::move(task));
    }
    if (const auto afters = place.find("afters")) read_afters(few(*afters, 20000), ids, job);
    if (const auto stages = place.find("stages")) {
      for (std::size_t k = 0; k < few(*stages, 20).size(); ++k) {
        const Place one = stages->item(k);
        Stage stage;
        if (const auto features = one.find("features")) {
          for (const std::string& name : texts(*features)) {
            stage.features.push_back(index_in(shop.features, *features, name));
          }
        }
        if (const auto bay = one.find("in")) stage.bay = bay_at(*bay);
        job.stages.push_back(std::move(stage));
        const auto bay = one.find("planned");
        planned = planned && bay;
        read.plan.bays.push_back(bay ? bay_at(*bay) : 0);
      }
    }
    if (!planned || read.plan.slots.empty()) read.plan = {};
  }

  static void read_afters(const Place& list, const std::vector<std::string>& ids, Job& job) {
    for (std::size_t i = 0; i < list.size(); ++i) {
      const Place one = list.item(i);
      After after;
      after.from = index_in(ids, one.at("from"), one.at("from").text());
      after.to = index_in(ids, one.at("to"), one.at("to").text());
      after.least = static_cast<Time>(number_or(one, "least_steps", 0, 0, 1e6));
      if (one.find("most_steps")) {
        after.most = static_cast<Time>(number_or(one, "most_steps", 0, 0, 1e6));
      }
      job.afters.push_back(after);
    }
  }

  [[nodiscard]] std::size_t bay_at(const Place& place) const {
    for (std::size_t bay = 0; bay < out_.shop.bays.size(); ++bay) {
      if (out_.shop.bays[bay].id == place.text()) return bay;
    }
    refuse(format("there is no bay \"{}\"", place.text()), place.path, {}, ErrorCode::not_found);
  }

  [[nodiscard]] Slot slot(const Place& place) const {
    Slot made{{step_at(place.at("from")), step_at(place.at("until"))}, {}};
    const auto people = place.find("people");
    for (const std::string& name : people ? texts(*people) : std::vector<std::string>{}) {
      const auto found = std::find_if(out_.shop.people.begin(), out_.shop.people.end(),
                                      [&name](const Person& person) { return person.id == name; });
      if (found == out_.shop.people.end()) {
        refuse(format("nobody is called \"{}\"", name), people->path, {}, ErrorCode::not_found);
      }
      made.people.push_back(static_cast<std::size_t>(found - out_.shop.people.begin()));
    }
    return made;
  }

  const Place& file_;
  ShopFile out_;
  year_month_day first_;
  int days_ = 0;
};

}  // namespace

namespace {

Result<nlohmann::json> parsed(std::string_view bytes, const char* where) {
  static constexpr std::size_t kMostBytes = std::size_t{8} << 20;
  if (bytes.size() > kMostBytes) {
    return fail(ErrorCode::too_large, "the file is past the limit of 8 MB", where);
  }
  auto json = nlohmann::json::parse(bytes, nullptr, false);
  if (json.is_discarded()) {
    return fail(ErrorCode::invalid_input, "this is not JSON, or it is cut short", where);
  }
  return json;
}

/// What reading gives, or why it was refused.
template <class Read>
auto guarded(Read read) -> Result<decltype(read())> {
  try {
    return read();
  } catch (detail::Refusal& refusal) {
    if (refusal.error.where.empty()) refusal.error.where = "file";
    return Failure(std::move(refusal.error));
  }
}

/// The earliest time in UTC that a plan or a beginning names.
Instant earliest_in(const nlohmann::json& jobs, Instant now) {
  Instant first = now;
  for (const auto& job : jobs) {
    if (!job.is_object() || !job.contains("tasks") || !job["tasks"].is_array()) continue;
    const auto look = [&](const nlohmann::json& value) {
      const nlohmann::json& time = value;
      if (time.is_string()) first = std::min(first, instant_at(Place{time, "jobs"}, Zone{}));
    };
    if (job.contains("arrives")) look(job["arrives"]);
    for (const auto& task : job["tasks"]) {
      for (const char* key : {"begun", "plan"}) {
        if (task.is_object() && task.contains(key) && task[key].is_object() &&
            task[key].contains("from")) {
          look(task[key]["from"]);
        }
      }
    }
  }
  return first;
}

}  // namespace

Result<ShopFile> read_shop_file(std::string_view bytes, const ZoneFinder& zones) {
  const auto json = parsed(bytes, "file");
  if (!json) return Failure(json.error());
  return guarded([&] { return Reader(Place{*json, ""}, zones).run(); });
}

Result<ShopFile> read_shop_parts(std::string_view workplace, std::string_view jobs, Instant now,
                                 int days, const ZoneFinder& zones) {
  auto file = parsed(workplace, "workplace");
  if (!file) return Failure(file.error());
  const auto work = parsed(jobs, "jobs");
  if (!work) return Failure(work.error());
  return guarded([&] {
    const Place place{*file, ""};
    Zone zone;
    if (const auto named = place.find("zone")) zone = must(zones(named->text()), *named);
    if (const auto clock = place.find("clock")) now = instant_at(*clock, zone);
    const nlohmann::json& list = Place{*work, ""}.at("jobs").value;
    const Instant first = list.is_array() ? earliest_in(list, now) : now;
    const auto day = std::chrono::floor<std::chrono::days>(civil_of(zone, first));
    const year_month_day date(day);
    (*file)["from"] =
        format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
               static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
    const auto past = std::chrono::floor<std::chrono::days>(now - first).count();
    (*file)["days"] = std::min<long>(400, days + past + 1);
    (*file)["jobs"] = list;
    file->erase("urgent");
    return Reader(Place{*file, ""}, zones).run();
  });
}

Result<std::pair<planning::Job, std::string>> read_plan_job(std::string_view bytes,
                                                            const ShopFile& file) {
  const auto json = parsed(bytes, "job");
  if (!json) return Failure(json.error());
  return guarded([&] { return Reader(Place{*json, "job"}, file).one_job(); });
}

Result<planning::Time> step_of(const planning::Shop& shop, const std::string& time) {
  const nlohmann::json text(time);
  return guarded([&] {
    const auto steps = (instant_at(Place{text, "time"}, shop.zone) - shop.origin) / shop.step;
    if (steps < 0 || steps > 1000000) refuse("the time is outside the calendar", "time");
    return static_cast<planning::Time>(steps);
  });
}

}  // namespace film::exchange
