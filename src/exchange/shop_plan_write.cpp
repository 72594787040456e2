#include <algorithm>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "exchange/detail/templates_json.h"
#include "exchange/shop_plan_json.h"

namespace film::exchange {
namespace {

using namespace planning;

using Json = nlohmann::ordered_json;

std::string text_of(Civil civil) {
  const auto day = std::chrono::floor<std::chrono::days>(civil);
  const std::chrono::year_month_day date(day);
  const auto minute = (civil - day).count();
  return format("{:04}-{:02}-{:02}T{:02}:{:02}", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), minute / 60,
                minute % 60);
}

Json time_or_null(const Shop& shop, Time t) {
  return t >= kNever ? Json(nullptr) : Json(wall_time(shop, t));
}

/// In UTC, so that no hour is meant twice.
std::string fixed_time(const Shop& shop, Time t) {
  return text_of(civil_of(Zone{}, shop.origin + t * shop.step)) + "Z";
}

Json slot_json(const Shop& shop, const Slot& slot) {
  Json people = Json::array();
  for (const std::size_t p : slot.people) people.push_back(shop.people[p].id);
  return {{"from", fixed_time(shop, slot.span.from)},
          {"until", fixed_time(shop, slot.span.until)},
          {"people", std::move(people)}};
}

Json task_json(const ShopFile& file, std::size_t j, std::size_t i) {
  const Shop& shop = file.shop;
  const ShopTask& task = file.jobs[j].tasks[i];
  Json out{{"id", task.id}, {"work_minutes", task.work * shop.step.count()}};
  if (task.spread > 0) out["spread"] = task.spread;
  for (const Hand& hand : task.hands) {
    out["hands"].push_back({{"skill", shop.skills[hand.skill]}, {"level", hand.level}});
  }
  if (task.plotter) out["plotter"] = true;
  if (task.pause == Pause::never) out["in_one_go"] = true;
  if (task.stage) out["stage"] = *task.stage;
  if (task.fixed) out["begun"] = slot_json(shop, *task.fixed);
  if (file.finished[j][i] != 0) out["finished"] = true;
  if (!task.fixed && !file.running[j].slots.empty()) {
    out["plan"] = slot_json(shop, file.running[j].slots[i]);
  }
  return out;
}

Json job_json(const ShopFile& file, std::size_t j) {
  const Shop& shop = file.shop;
  const Job& job = file.jobs[j];
  Json out{{"id", job.id}, {"title", file.titles[j]}, {"arrives", fixed_time(shop, job.arrives)}};
  if (job.promise < kNever) out["promise"] = fixed_time(shop, job.promise);
  out["weight"] = job.weight;
  out["stages"] = Json::array();
  for (std::size_t k = 0; k < job.stages.size(); ++k) {
    Json stage{{"features", Json::array()}};
    for (const std::size_t f : job.stages[k].features) {
      stage["features"].push_back(shop.features[f]);
    }
    if (job.stages[k].bay) stage["in"] = shop.bays[*job.stages[k].bay].id;
    if (!file.running[j].slots.empty()) {
      stage["planned"] = shop.bays[file.running[j].bays[k]].id;
    }
    out["stages"].push_back(std::move(stage));
  }
  out["tasks"] = Json::array();
  for (std::size_t i = 0; i < job.tasks.size(); ++i) out["tasks"].push_back(task_json(file, j, i));
  out["afters"] = Json::array();
  for (const After& after : job.afters) {
    Json one{{"from", job.tasks[after.from].id}, {"to", job.tasks[after.to].id}};
    if (after.least > 0) one["least_steps"] = after.least;
    if (after.most < kNever) one["most_steps"] = after.most;
    out["afters"].push_back(std::move(one));
  }
  return out;
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

std::string wall_time(const Shop& shop, Time t) {
  return t >= kNever ? "" : text_of(civil_of(shop.zone, shop.origin + t * shop.step));
}

std::string write_plan_jobs(const ShopFile& file) {
  Json jobs = Json::array();
  for (std::size_t j = 0; j < file.jobs.size(); ++j) jobs.push_back(job_json(file, j));
  return Json{{"jobs", std::move(jobs)}}.dump();
}

Result<std::string> with_absence(std::string_view workplace, const std::string& person,
                                 const std::string& from, const std::string& until) {
  Json json = Json::parse(workplace, nullptr, false);
  if (json.is_object() && json.contains("people") && json["people"].is_array()) {
    for (Json& one : json["people"]) {
      if (!one.is_object() || one.value("id", "") != person) continue;
      one["away"].push_back({{"from", from}, {"until", until}});
      return json.dump(2);
    }
  }
  return fail(ErrorCode::not_found, format("nobody is called \"{}\"", person), "person",
              "Choose one of the shop's people");
}

Result<std::string> with_clock(std::string_view workplace, const std::string& clock) {
  Json json = Json::parse(workplace, nullptr, false);
  if (!json.is_object()) return fail(ErrorCode::invalid_input, "this is no workplace", "workplace");
  json["clock"] = clock;
  return json.dump(2);
}

Result<std::string> with_templates(std::string_view workplace) {
  Json json = Json::parse(workplace, nullptr, false);
  if (!json.is_object()) return fail(ErrorCode::invalid_input, "this is no workplace", "workplace");
  if (!json.contains("templates")) {
    json["templates"] = detail::write_templates(planning::usual_templates());
  }
  return json.dump(2);
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
