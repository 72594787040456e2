// The shop's plan: how it stands, answers at the counter, reports, moves, feeds.

#include <algorithm>
#include <chrono>
#include <utility>

#include "base/text.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "server/api.h"
#include "server/fields.h"
#include "server/json.h"
#include "server/problem.h"
#include "workbench/ask_plan.h"
#include "workbench/browse.h"
#include "workbench/feed_plan.h"
#include "workbench/move_work.h"
#include "workbench/plan_history.h"
#include "workbench/report_work.h"

namespace film::server {
namespace {

using planning::kNever;
using planning::Time;

constexpr std::size_t kLongestId = 200;

/// A search that somebody waits for.
Context patient(Executor* executor = nullptr) { return Context(host::stop_after(3), {}, executor); }

Json time_or_null(const planning::Shop& shop, Time t) {
  return t >= kNever ? Json() : Json(exchange::wall_time(shop, t));
}

Json encode_span(const planning::Shop& shop, const planning::Span& span) {
  return {{"from", exchange::wall_time(shop, span.from)},
          {"until", exchange::wall_time(shop, span.until)}};
}

Json names_of(const planning::Shop& shop, const std::vector<std::size_t>& people) {
  Json names = Json::array();
  for (const std::size_t p : people) names.push_back(shop.people[p].id);
  return names;
}

Json encode_task(const exchange::ShopFile& file, const planning::JobPlan& plan, std::size_t j,
                 std::size_t i) {
  const planning::ShopTask& task = file.jobs[j].tasks[i];
  const bool placed = !plan.slots.empty() || task.fixed;
  const planning::Slot slot = task.fixed           ? *task.fixed
                              : plan.slots.empty() ? planning::Slot{}
                                                   : plan.slots[i];
  const char* state = file.finished[j][i] != 0 ? "finished" : task.fixed ? "begun" : "open";
  const bool housed = task.stage && !plan.bays.empty();
  return {{"id", task.id},
          {"state", state},
          {"from", placed ? time_or_null(file.shop, slot.span.from) : Json()},
          {"until", placed ? time_or_null(file.shop, slot.span.until) : Json()},
          {"people", names_of(file.shop, slot.people)},
          {"hands", task.hands.size()},
          {"skill", task.hands.empty() ? "" : file.shop.skills[task.hands[0].skill]},
          {"bay", housed ? Json(file.shop.bays[plan.bays[*task.stage]].id) : Json()},
          {"work_minutes", task.work * file.shop.step.count()}};
}

Json encode_job(const exchange::ShopFile& file, const planning::JobPlan& plan, std::size_t j) {
  const planning::Job& job = file.jobs[j];
  Json tasks = Json::array();
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    tasks.push_back(encode_task(file, plan, j, i));
  }
  Json stays = Json::array();
  for (std::size_t k = 0; k < job.stages.size() && !plan.slots.empty(); ++k) {
    Json stay = encode_span(file.shop, planning::hold_of(job, plan.slots, k));
    stay["bay"] = file.shop.bays[plan.bays[k]].id;
    stays.push_back(std::move(stay));
  }
  return {{"id", job.id},
          {"title", file.titles[j]},
          {"arrives", exchange::wall_time(file.shop, job.arrives)},
          {"promise", time_or_null(file.shop, job.promise)},
          {"end", time_or_null(file.shop, plan.end())},
          {"kept", plan.end() <= job.promise},
          {"stays", std::move(stays)},
          {"tasks", std::move(tasks)}};
}

Json encode_person(const workbench::PlanDesk& desk, const planning::Person& person) {
  const planning::Shop& shop = desk.file.shop;
  const Time week = static_cast<Time>(std::chrono::hours(24 * 28) / shop.step);
  Json skills = Json::array();
  for (std::size_t s = 0; s < person.levels.size(); ++s) {
    if (person.levels[s] > 0) {
      skills.push_back({{"skill", shop.skills[s]}, {"level", person.levels[s]}});
    }
  }
  Json hours = Json::array();
  for (const planning::Span& span : person.hours.spans()) {
    if (span.until < desk.now - week / 4 || span.from > desk.now + week) continue;
    hours.push_back(encode_span(shop, span));
  }
  return {{"id", person.id}, {"skills", std::move(skills)}, {"hours", std::move(hours)}};
}

Json encode(const workbench::PlanDesk& desk, bool demo) {
  const exchange::ShopFile& file = desk.file;
  Json people = Json::array();
  for (const auto& person : file.shop.people) people.push_back(encode_person(desk, person));
  Json bays = Json::array();
  for (const auto& bay : file.shop.bays) {
    Json features = Json::array();
    for (const std::size_t f : bay.features) features.push_back(file.shop.features[f]);
    bays.push_back({{"id", bay.id}, {"features", std::move(features)}});
  }
  const auto sureties = workbench::sureties(desk);
  Json jobs = Json::array();
  for (std::size_t j = 0; j < file.jobs.size(); ++j) {
    Json job = encode_job(file, file.running[j], j);
    job["chance"] = sureties[j].chance;
    job["sure"] = time_or_null(file.shop, sureties[j].sure);
    jobs.push_back(std::move(job));
  }
  return {{"version", desk.version},
          {"made", desk.made},
          {"now", exchange::wall_time(file.shop, desk.now)},
          {"zone", file.shop.zone.name},
          {"demo", demo},
          {"workplace_revision", desk.workplace_revision},
          {"warnings", desk.warnings},
          {"people", std::move(people)},
          {"bays", std::move(bays)},
          {"jobs", std::move(jobs)}};
}

Response plan_answer(workbench::Workbench& workbench, const Result<workbench::PlanDesk>& desk,
                     int status = 200) {
  if (!desk) return problem(desk.error());
  const auto settings = workbench::shop_settings(workbench);
  return json_response(encode(*desk, settings && settings->demo), status);
}

Json encode_slips(const exchange::ShopFile& file, const std::vector<planning::Slip>& slips) {
  Json list = Json::array();
  for (const planning::Slip& slip : slips) {
    list.push_back({{"job", file.jobs[slip.job].id},
                    {"title", file.titles[slip.job]},
                    {"promise", time_or_null(file.shop, slip.promised)},
                    {"before", time_or_null(file.shop, slip.before)},
                    {"after", time_or_null(file.shop, slip.after)}});
  }
  return list;
}

const char* word_of(planning::Fits fits) {
  if (fits == planning::Fits::yes) return "yes";
  return fits == planning::Fits::no ? "no" : "not_found";
}

Json encode_fit(const planning::Shop& shop, const planning::Job& job,
                const planning::FitAnswer& answer) {
  Json tasks = Json::array();  // of the new job, which the proof rests on
  for (const auto& [j, i] : answer.tasks) {
    if (i < job.tasks.size()) tasks.push_back(job.tasks[i].id);
  }
  const bool planned = !answer.plan.empty();
  return {{"fits", word_of(answer.fits)},
          {"reason", answer.reason},
          {"tasks", answer.fits == planning::Fits::no ? std::move(tasks) : Json::array()},
          {"end", planned ? time_or_null(shop, answer.plan.back().end()) : Json()}};
}

workbench::PlanOrder read_order(Fields& fields) {
  workbench::PlanOrder order;
  order.job = fields.text_or("job", kLongestId, "");
  order.arrives = fields.text_or("arrives", 40, "");
  order.promise = fields.text_or("promise", 40, "");
  order.weight = fields.number_or("weight", 0.01, 100, 1);
  order.correction_hours = fields.number_or("correction_hours", 0, 200, 0);
  order.coats = static_cast<int>(fields.integer_or("coats", 0, 10, 0));
  const Json& work = fields.object_or_null("work");
  if (!work.is_null()) order.text = text_of(work);
  if (order.job.empty() == order.text.empty()) {
    fields.refuse("job", "name a job of the book, or describe the work", "Give one of the two.");
  }
  return order;
}

/// Reads the order of a request and whatever `more` reads beside it.
template <class More>
Result<workbench::PlanOrder> order_of(const Request& request, More more) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  auto order = read_order(fields);
  more(fields);
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return order;
}

Result<workbench::PlanOrder> order_of(const Request& request) {
  return order_of(request, [](Fields&) {});
}

Response ask_promise(workbench::Workbench& workbench, const Request& request) {
  double chance = 0.9;
  const auto order = order_of(
      request, [&chance](Fields& fields) { chance = fields.number_or("chance", 0.5, 0.99, 0.9); });
  if (!order) return problem(order.error());
  const auto reply = workbench::ask_promise(workbench, *order, chance, patient());
  if (!reply) return problem(reply.error());
  const planning::Shop& shop = reply->desk.file.shop;
  return json_response({{"chance", chance},
                        {"promise", time_or_null(shop, reply->answer.promise)},
                        {"planned_end", time_or_null(shop, reply->answer.planned)}});
}

Response ask_fits(workbench::Workbench& workbench, const Request& request) {
  const auto order = order_of(request);
  if (!order) return problem(order.error());
  const auto reply = workbench::ask_fits(workbench, *order, patient());
  if (!reply) return problem(reply.error());
  return json_response(encode_fit(reply->desk.file.shop, reply->job, reply->answer));
}

Response ask_rush(workbench::Workbench& workbench, const Request& request) {
  const auto order = order_of(request);
  if (!order) return problem(order.error());
  host::ThreadExecutor both(2);
  const auto reply = workbench::ask_rush(workbench, *order, patient(&both));
  if (!reply) return problem(reply.error());
  const exchange::ShopFile& file = reply->desk.file;
  Json remedies = Json::array();
  for (const planning::Remedy& remedy : reply->answer.remedies) {
    remedies.push_back({{"what", remedy.text},
                        {"in_time", remedy.in_time},
                        {"left", encode_slips(file, remedy.left)}});
  }
  Json out = encode_fit(file.shop, reply->job, reply->answer.urgent);
  out["slips"] = encode_slips(file, reply->answer.slips);
  out["remedies"] = std::move(remedies);
  return json_response(out);
}

Result<workbench::WorkReport> read_report(const Request& request) {
  using What = workbench::WorkReport::What;
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::WorkReport report;
  const std::string what = fields.text("what", 20);
  if (what == "started") {
    report.what = What::started;
  } else if (what == "finished") {
    report.what = What::finished;
  } else if (what == "delayed") {
    report.what = What::delayed;
  } else if (what == "redone") {
    report.what = What::redone;
  } else if (what == "absent") {
    report.what = What::absent;
  } else {
    fields.refuse("what", "there is no such report",
                  "Use started, finished, delayed, redone or absent.");
  }
  report.job = fields.text_or("job", kLongestId, "");
  report.task = fields.text_or("task", kLongestId, "");
  report.person = fields.text_or("person", kLongestId, "");
  report.at = fields.text_or("at", 40, "");
  report.until = fields.text_or("until", 40, "");
  report.minutes = static_cast<int>(fields.integer_or("minutes", 0, 20000, 0));
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return report;
}

Response move(workbench::Workbench& workbench, const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  workbench::WorkMove move;
  move.job = fields.text("job", kLongestId);
  move.task = fields.text_or("task", kLongestId, "");
  move.from = fields.text("from", 40);
  move.person = fields.text_or("person", kLongestId, "");
  move.instead_of = fields.text_or("instead_of", kLongestId, "");
  move.bay = fields.text_or("bay", kLongestId, "");
  const bool keep = fields.integer_or("keep", 0, 1, 0) == 1;
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto answer = keep ? workbench::keep_move(workbench, move, call.caller.name, patient())
                           : workbench::try_move(workbench, move, patient());
  if (!answer) return problem(answer.error());
  const exchange::ShopFile& file = answer->desk.file;
  Json ghost = Json::array();  // jobs that stand elsewhere with the move
  for (std::size_t j = 0; j < answer->plan.size(); ++j) {
    if (keep || answer->plan[j] == file.running[j]) continue;
    ghost.push_back(encode_job(file, answer->plan[j], j));
  }
  return json_response({{"stands", answer->stands},
                        {"others_move", answer->others_move},
                        {"reasons", answer->reasons},
                        {"slips", encode_slips(file, answer->slips)},
                        {"version", answer->desk.version},
                        {"ghost", std::move(ghost)}});
}

/// Each person's tasks of the day, and what comes next for each vehicle.
Json encode_today(const workbench::PlanDesk& desk) {
  const exchange::ShopFile& file = desk.file;
  const std::string day = exchange::wall_time(file.shop, desk.now).substr(0, 10);
  Json people = Json::array();
  for (std::size_t p = 0; p < file.shop.people.size(); ++p) {
    std::vector<std::pair<std::string, Json>> tasks;
    for (std::size_t j = 0; j < file.jobs.size(); ++j) {
      for (std::size_t i = 0; i < file.running[j].slots.size(); ++i) {
        const planning::Slot& slot = file.running[j].slots[i];
        const bool theirs =
            std::find(slot.people.begin(), slot.people.end(), p) != slot.people.end();
        const std::string from = exchange::wall_time(file.shop, slot.span.from);
        const std::string until = exchange::wall_time(file.shop, slot.span.until);
        if (!theirs || from.substr(0, 10) > day || until.substr(0, 10) < day) continue;
        Json task = encode_task(file, file.running[j], j, i);
        task["job"] = file.jobs[j].id;
        task["title"] = file.titles[j];
        tasks.emplace_back(from, std::move(task));
      }
    }
    std::stable_sort(tasks.begin(), tasks.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    Json list = Json::array();
    for (auto& [from, task] : tasks) list.push_back(std::move(task));
    people.push_back({{"id", file.shop.people[p].id}, {"tasks", std::move(list)}});
  }
  Json vehicles = Json::array();
  for (std::size_t j = 0; j < file.jobs.size(); ++j) {
    const auto& slots = file.running[j].slots;
    std::size_t next = slots.size();
    for (std::size_t i = 0; i < slots.size(); ++i) {
      if (file.finished[j][i] != 0) continue;
      if (next == slots.size() || slots[i].span.from < slots[next].span.from) next = i;
    }
    vehicles.push_back(
        {{"job", file.jobs[j].id},
         {"title", file.titles[j]},
         {"next", next < slots.size() ? encode_task(file, file.running[j], j, next) : Json()}});
  }
  return {{"day", day}, {"people", std::move(people)}, {"vehicles", std::move(vehicles)}};
}

Response set_workplace(workbench::Workbench& workbench, const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  shop::Workplace workplace;
  workplace.revision = fields.integer_or("revision", 0, 1000000000, 0) + 1;
  const Json& given = fields.object_or_null("workplace");
  if (given.is_null()) fields.refuse("workplace", "the field is missing", "Give the workplace.");
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  workplace.text = given.dump(2, ' ', false, Json::error_handler_t::replace);
  if (auto done = workbench::change_workplace(workbench, workplace, call.caller.name, patient());
      !done) {
    return problem(done.error());
  }
  return json_response({{"revision", workplace.revision}, {"workplace", given}});
}

Response read_workplace(workbench::Workbench& workbench) {
  const auto found = workbench::workplace(workbench);
  if (!found) return problem(found.error());
  return json_response(
      {{"revision", found->revision}, {"workplace", Json::parse(found->text, nullptr, false)}});
}

Response history(workbench::Workbench& workbench) {
  const auto versions = workbench::plan_history(workbench, 50);
  if (!versions) return problem(versions.error());
  Json all = Json::array();
  for (const auto& version : *versions) {
    all.push_back({{"version", version.number},
                   {"made", version.made},
                   {"who", version.who},
                   {"what", version.what}});
  }
  return json_response({{"versions", std::move(all)}});
}

Response calendar(workbench::Workbench& workbench, const std::string& secret) {
  auto feed = workbench::read_feed(workbench, secret);
  if (!feed) return problem(feed.error());
  Response response;
  response.headers = {{"Content-Type", "text/calendar; charset=utf-8"},
                      {"Cache-Control", "no-store"}};
  response.body = *std::move(feed);
  return response;
}

}  // namespace

void Api::add_plan_routes() {
  router_.get("/api/v1/plan", [this](const Call&) {
    return plan_answer(workbench_, workbench::plan_desk(workbench_));
  });
  router_.get("/api/v1/plan/today", [this](const Call&) {
    const auto desk = workbench::plan_desk(workbench_);
    return desk ? json_response(encode_today(*desk)) : problem(desk.error());
  });
  router_.get("/api/v1/plan/history", [this](const Call&) { return history(workbench_); });
  router_.get("/api/v1/plan/workplace", [this](const Call&) { return read_workplace(workbench_); });
  router_.post("/api/v1/plan/workplace",
               [this](const Call& call) { return set_workplace(workbench_, call); });
  router_.post("/api/v1/plan/clock", [this](const Call& call) {
    const auto body = body_of(call.request.body);
    if (!body) return problem(body.error());
    Fields fields(*body, "");
    const std::string time = fields.text("time", 40);
    if (auto sound = fields.done(); !sound) return problem(sound.error());
    if (auto set = workbench::set_demo_clock(workbench_, time); !set) return problem(set.error());
    return plan_answer(workbench_, workbench::plan_desk(workbench_));
  });
  router_.post("/api/v1/plan/jobs", [this](const Call& call) {
    const auto order = order_of(call.request);
    if (!order) return problem(order.error());
    return plan_answer(
        workbench_, workbench::book_plan_job(workbench_, *order, call.caller.name, patient()), 201);
  });
  router_.post("/api/v1/plan/jobs/{job}/drop", [this](const Call& call) {
    return plan_answer(
        workbench_, workbench::drop_plan_job(workbench_, call["job"], call.caller.name, patient()));
  });
  router_.post("/api/v1/plan/promise",
               [this](const Call& call) { return ask_promise(workbench_, call.request); });
  router_.post("/api/v1/plan/fits",
               [this](const Call& call) { return ask_fits(workbench_, call.request); });
  router_.post("/api/v1/plan/rush",
               [this](const Call& call) { return ask_rush(workbench_, call.request); });
  router_.post("/api/v1/plan/reports", [this](const Call& call) {
    const auto report = read_report(call.request);
    if (!report) return problem(report.error());
    return plan_answer(workbench_,
                       workbench::report_work(workbench_, *report, call.caller.name, patient()));
  });
  router_.post("/api/v1/plan/moves", [this](const Call& call) { return move(workbench_, call); });
  router_.post("/api/v1/plan/feeds", [this](const Call& call) {
    const auto body = body_of(call.request.body);
    if (!body) return problem(body.error());
    Fields fields(*body, "");
    const std::string person = fields.text_or("person", kLongestId, "");
    if (auto sound = fields.done(); !sound) return problem(sound.error());
    const auto secret = workbench::open_feed(workbench_, person);
    if (!secret) return problem(secret.error());
    return json_response({{"href", format("/api/v1/plan/calendar/{}.ics", *secret)}}, 201);
  });
  router_.get("/api/v1/plan/calendar/{secret}.ics",
              [this](const Call& call) { return calendar(workbench_, call["secret"]); });
}

}  // namespace film::server
