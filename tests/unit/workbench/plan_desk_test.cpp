// The shop's plan through its use cases, on the invented demo shop. The clock of the demo stands,
// so every time below is exact; the rules of the plan are judged by the independent verifier.

#include <algorithm>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "demo/workplace.h"
#include "planning/verify_shop_plan.h"
#include "store/store.h"
#include "workbench/ask_plan.h"
#include "workbench/feed_plan.h"
#include "workbench/move_work.h"
#include "workbench/record_hours.h"
#include "workbench/replan_recut.h"
#include "workbench/report_work.h"
#include "workbench/seed_demo.h"
#include "workbench/seed_plan.h"

namespace film::workbench {
namespace {

class PlanOfTheDemo : public ::testing::Test {
 protected:
  void SetUp() override {
    auto made = workbench_in_memory();
    ASSERT_TRUE(made);
    bench_ = *std::move(made);
    shop::Settings settings;
    settings.name = "Invented";
    settings.demo = true;
    ASSERT_TRUE(bench_->store().change([&](store::Book& book) { book.put(settings); }));
    const auto seeded = seed_plan(*bench_, {});
    ASSERT_TRUE(seeded) << seeded.error().message();
  }

  PlanDesk desk() {
    auto desk = plan_desk(*bench_);
    EXPECT_TRUE(desk) << desk.error().message();
    return *std::move(desk);
  }

  PlanOrder walk_in(const std::string& promise) const {
    PlanOrder order;
    order.text = R"({"id": "new", "title": "Grey wagon",
                     "scope": {"zones": [{"id": "hood", "hours": 3}]}})";
    order.promise = promise;
    return order;
  }

  std::unique_ptr<Workbench> bench_;
};

TEST(PlanOfTheWholeDemo, HoldsFourVehiclesAndKeepsEveryPromise) {
  const auto bench = *workbench_in_memory();
  const auto demo = seed_demo(*bench);
  ASSERT_TRUE(demo);
  const auto seeded = seed_plan(*bench, *demo);
  ASSERT_TRUE(seeded) << seeded.error().message();
  const PlanDesk now = *plan_desk(*bench);
  ASSERT_EQ(now.file.jobs.size(), 4u);
  EXPECT_TRUE(
      planning::verify_shop_plan(now.file.shop, now.file.jobs, now.file.running, now.now).empty());
  for (std::size_t j = 0; j < 4; ++j) {
    EXPECT_LE(now.file.running[j].end(), now.file.jobs[j].promise) << now.file.titles[j];
  }
  EXPECT_EQ(exchange::wall_time(now.file.shop, now.now), "2031-05-05T07:30");
  // The demo's whole body: its zones, its windows and lamps each on their own.
  const auto& body = now.file.jobs[*job_named(now, demo->job)];
  EXPECT_TRUE(task_named(body, "lay film front"));
  EXPECT_GT(body.tasks.size(), 30u);
}

TEST_F(PlanOfTheDemo, APlanReadBackIsThePlanThatWasKept) {
  PlanDesk first = desk();
  const auto text = exchange::write_plan_jobs(first.file);
  ASSERT_TRUE(keep_plan(*bench_, first, "again", "test"));
  const PlanDesk again = desk();
  EXPECT_EQ(exchange::write_plan_jobs(again.file), text);
  EXPECT_EQ(again.version, first.version);
}

TEST_F(PlanOfTheDemo, TheCounterGetsAPromiseAYesANoWithItsProofAndARush) {
  const auto promise = ask_promise(*bench_, walk_in(""), 0.9, Context());
  ASSERT_TRUE(promise) << promise.error().message();
  EXPECT_LT(promise->answer.promise, planning::kNever);
  EXPECT_GE(promise->answer.promise, promise->answer.planned);

  const auto late = ask_fits(*bench_, walk_in("2031-05-23T15:00"), Context());
  ASSERT_TRUE(late);
  EXPECT_EQ(late->answer.fits, planning::Fits::yes);
  const auto soon = ask_fits(*bench_, walk_in("2031-05-05T10:00"), Context());
  ASSERT_TRUE(soon);
  EXPECT_EQ(soon->answer.fits, planning::Fits::no);
  EXPECT_FALSE(soon->answer.reason.empty());

  const auto rush = ask_rush(*bench_, walk_in("2031-05-06T17:00"), Context());
  ASSERT_TRUE(rush);
  EXPECT_EQ(desk().file.jobs.size(), 3u) << "asking must not book";
}

TEST_F(PlanOfTheDemo, AReportMovesLittleAndStandsAsAFact) {
  const PlanDesk before = desk();
  const auto j = *job_named(before, "P-0001");
  WorkReport report;
  report.job = "P-0001";
  report.task = "wash";
  ASSERT_TRUE(set_demo_clock(*bench_, "2031-05-05T08:05"));
  auto after = report_work(*bench_, report, "test", Context());
  ASSERT_TRUE(after) << after.error().message();
  const auto i = *task_named(after->file.jobs[j], "wash");
  ASSERT_TRUE(after->file.jobs[j].tasks[i].fixed);

  ASSERT_TRUE(set_demo_clock(*bench_, "2031-05-05T08:50"));
  report.what = WorkReport::What::finished;
  after = report_work(*bench_, report, "test", Context());
  ASSERT_TRUE(after) << after.error().message();
  EXPECT_EQ(after->file.finished[j][i], 1);
  const auto twice = report_work(*bench_, report, "test", Context());
  ASSERT_FALSE(twice);
  EXPECT_EQ(twice.error().code, ErrorCode::conflict);

  report.task = "hand over";
  report.what = WorkReport::What::started;
  const auto early = report_work(*bench_, report, "test", Context());
  ASSERT_FALSE(early);
  EXPECT_NE(early.error().what.find("take photos"), std::string::npos) << early.error().what;
}

TEST_F(PlanOfTheDemo, ASpoiledPanelComesAgainAndWhatIsOpenWaitsForIt) {
  const auto told = [this](const char* task, WorkReport::What what, const char* clock) {
    EXPECT_TRUE(set_demo_clock(*bench_, clock));
    WorkReport report;
    report.what = what;
    report.job = "P-0003";
    report.task = task;
    auto after = report_work(*bench_, report, "test", Context());
    EXPECT_TRUE(after) << after.error().message();
    return after;
  };
  told("wash", WorkReport::What::finished, "2031-05-06T09:00");
  told("decontaminate", WorkReport::What::finished, "2031-05-06T09:50");
  told("wipe down", WorkReport::What::finished, "2031-05-06T10:20");
  told("window film sides", WorkReport::What::finished, "2031-05-06T12:50");
  const auto after = told("window film sides", WorkReport::What::redone, "2031-05-06T12:55");
  ASSERT_TRUE(after);
  const auto j = *job_named(*after, "P-0003");
  const auto& job = after->file.jobs[j];
  const auto again = task_named(job, "window film sides, 2");
  ASSERT_TRUE(again);
  EXPECT_FALSE(job.tasks[*again].fixed);
  const auto inspect = *task_named(job, "inspect edges");
  ASSERT_FALSE(after->file.running[j].slots.empty());
  EXPECT_GE(after->file.running[j].slots[inspect].span.from,
            after->file.running[j].slots[*again].span.until);
}

// A spoiled piece is less than its zone: only its share of the hours comes again.
TEST(PlanOfTheWholeDemo, APieceCutAgainIsLaidAgainAndOthersStay) {
  const auto bench = *workbench_in_memory();
  const auto demo = seed_demo(*bench);
  ASSERT_TRUE(demo);
  ASSERT_TRUE(seed_plan(*bench, *demo));
  shop::Recut recut;
  recut.id = "X-0001";
  recut.job = demo->job;
  recut.piece = "hood";
  EXPECT_FALSE(replan_recut(*bench, recut, "test", Context())) << "it has not been laid yet";

  const auto report = [&](const std::string& job, const std::string& task) {
    WorkReport told;
    told.what = WorkReport::What::finished;
    told.job = job;
    told.task = task;
    const auto done = report_work(*bench, told, "test", Context());
    ASSERT_TRUE(done) << done.error().message();
  };
  // Everything of the demo's vehicle up to the laying of its front, as planned.
  const PlanDesk planned = *plan_desk(*bench);
  const auto j = *job_named(planned, demo->job);
  const auto& job = planned.file.jobs[j];
  const auto front = *task_named(job, "lay film front");
  const auto until = planned.file.running[j].slots[front].span.until;
  std::vector<std::pair<planning::Time, std::pair<std::string, std::string>>> all;
  for (std::size_t k = 0; k < planned.file.jobs.size(); ++k) {
    for (std::size_t i = 0; i < planned.file.jobs[k].tasks.size(); ++i) {
      const auto& task = planned.file.jobs[k].tasks[i];
      const auto end = planned.file.running[k].slots[i].span.until;
      if (task.hands.empty() || end > until) continue;
      all.push_back({end, {planned.file.jobs[k].id, task.id}});
    }
  }
  std::sort(all.begin(), all.end());
  for (const auto& [end, what] : all) {
    ASSERT_TRUE(set_demo_clock(*bench, exchange::wall_time(planned.file.shop, end)));
    report(what.first, what.second);
  }

  const PlanDesk before = *plan_desk(*bench);
  const auto made = replan_recut(*bench, recut, "test", Context());
  ASSERT_TRUE(made);
  EXPECT_EQ(made->refused, "");
  ASSERT_FALSE(made->again.empty());
  EXPECT_EQ(made->again.front(), "lay film front, 2");
  EXPECT_LE(10 * made->moved, made->open) << "at most a tenth of the others moves";
  for (const auto& slip : made->slips) {
    EXPECT_EQ(made->desk.file.jobs[slip.job].id, demo->job) << "another promise broke";
  }
  const auto& after = made->desk.file.jobs[*job_named(made->desk, demo->job)];
  const auto again = *task_named(after, "lay film front, 2");
  EXPECT_GT(after.tasks[again].work, 0);
  EXPECT_LT(2 * after.tasks[again].work, after.tasks[front].work);
  EXPECT_EQ(made->desk.version, before.version + 1);
}

// Durations follow what the shop recorded, not only what it believed before.
TEST(PlanOfTheWholeDemo, HoursThatWereRecordedAreTheHoursThatArePlanned) {
  const auto bench = *workbench_in_memory();
  const auto demo = seed_demo(*bench);
  ASSERT_TRUE(demo);
  ASSERT_TRUE(seed_plan(*bench, *demo));
  PlanOrder order;
  order.job = demo->job;
  const auto hours = [&] {
    const auto work = planned_work(*bench, *plan_desk(*bench), order);
    EXPECT_TRUE(work) << work.error().message();
    return work->first.tasks[*task_named(work->first, "lay film front")].work;
  };
  const auto believed = hours();
  HoursEntry entry;
  entry.job = demo->job;
  entry.piece = "hood";
  entry.who = "Olma Reedwater";
  entry.minutes = 200;
  for (int k = 0; k < 12; ++k) {
    ASSERT_TRUE(record_hours(*bench, entry, Context()));
  }
  EXPECT_GT(hours(), believed + believed / 4);
}

TEST_F(PlanOfTheDemo, WhatTheCounterSaidIsWhatIsBooked) {
  PlanOrder order = walk_in("2031-05-07T17:00");
  const auto fits = ask_fits(*bench_, order, Context());
  ASSERT_TRUE(fits);
  ASSERT_EQ(fits->answer.fits, planning::Fits::yes);
  const auto booked = book_plan_job(*bench_, order, "test", Context());
  ASSERT_TRUE(booked) << booked.error().message();
  for (std::size_t j = 0; j < booked->file.jobs.size(); ++j) {
    EXPECT_LE(booked->file.running[j].end(), booked->file.jobs[j].promise)
        << booked->file.titles[j];
  }
}

TEST_F(PlanOfTheDemo, WhoIsAbsentGetsNoWork) {
  WorkReport report;
  report.what = WorkReport::What::absent;
  report.person = "Olma Reedwater";
  report.until = "2031-05-07T00:00";
  const auto after = report_work(*bench_, report, "test", Context());
  ASSERT_TRUE(after) << after.error().message();
  const auto olma = *person_named(*after, "Olma Reedwater");
  const auto back = *exchange::step_of(after->file.shop, "2031-05-07T00:00");
  for (const auto& plan : after->file.running) {
    for (const auto& slot : plan.slots) {
      if (std::count(slot.people.begin(), slot.people.end(), olma) == 0) continue;
      EXPECT_GE(slot.span.from, back);
    }
  }
}

TEST_F(PlanOfTheDemo, AMoveThatCannotBeSaysWhyAndOneThatCanIsKept) {
  WorkMove move;
  move.job = "P-0001";
  move.task = "hand over";
  move.from = "2031-05-05T09:00";
  const auto never = try_move(*bench_, move, Context());
  ASSERT_TRUE(never) << never.error().message();
  EXPECT_FALSE(never->stands);
  EXPECT_FALSE(never->reasons.empty());
  EXPECT_FALSE(keep_move(*bench_, move, "test", Context()));

  move.job = "P-0003";
  move.task = "";
  move.from = "2031-05-07T08:00";
  const auto later = keep_move(*bench_, move, "test", Context());
  ASSERT_TRUE(later) << later.error().message();
  const auto from = *exchange::step_of(later->desk.file.shop, move.from);
  const auto now = desk();
  for (const auto& slot : now.file.running[*job_named(now, "P-0003")].slots) {
    EXPECT_GE(slot.span.from, from);
  }
}

TEST_F(PlanOfTheDemo, AFeedIsReadWithItsSecretOnly) {
  const auto secret = open_feed(*bench_, "Tivek Sorrel");
  ASSERT_TRUE(secret);
  EXPECT_EQ(secret->size(), 40u);
  const auto feed = read_feed(*bench_, *secret);
  ASSERT_TRUE(feed);
  EXPECT_NE(feed->find("SEQUENCE:3"), std::string::npos);
  EXPECT_NE(feed->find("Tivek Sorrel"), std::string::npos);
  EXPECT_FALSE(read_feed(*bench_, std::string(40, '0')));
  EXPECT_FALSE(open_feed(*bench_, "Nobody"));
}

TEST_F(PlanOfTheDemo, AChangedWorkplaceIsPlannedForAtOnceAndAnOldOneIsRefused) {
  auto place = *workplace(*bench_);
  EXPECT_NE(place.text.find("lay film"), std::string::npos) << "the way of working is written out";
  const std::string bay = "film bay 2";
  ASSERT_NE(place.text.find("\"id\": \"" + bay), std::string::npos);
  // Barnaby works no Tuesdays any more.
  auto json = nlohmann::ordered_json::parse(place.text);
  json["people"][0]["week"].erase("tue");
  const shop::Workplace changed{json.dump(), place.revision + 1};
  const auto done = change_workplace(*bench_, changed, "test", Context());
  ASSERT_TRUE(done) << done.error().message();
  const auto now = desk();
  EXPECT_TRUE(
      planning::verify_shop_plan(now.file.shop, now.file.jobs, now.file.running, now.now).empty());
  const auto old = change_workplace(*bench_, changed, "test", Context());
  ASSERT_FALSE(old);
  EXPECT_EQ(old.error().code, ErrorCode::conflict);
}

// Bad input, each named with what it concerns.
TEST_F(PlanOfTheDemo, BadInputIsNamed) {
  const auto refused = [this](const std::string& text, const std::string& promise) {
    PlanOrder order;
    order.text = text;
    order.promise = promise;
    const auto made = book_plan_job(*bench_, order, "test", Context());
    EXPECT_FALSE(made);
    return made ? std::string() : made.error().message();
  };
  const char* const task = R"({"id": "x", "tasks": [{"id": "a", "work_minutes": 30}, {"id": "b",
      "work_minutes": 30}], "afters": [{"from": "a", "to": "b"}, {"from": "b", "to": "a"}]})";
  EXPECT_NE(refused(task, "").find("circle"), std::string::npos);
  EXPECT_NE(refused(R"({"id": "x", "tasks": [{"id": "weld", "work_minutes": 30,
      "hands": [{"skill": "coat", "level": 9}]}]})",
                    "")
                .find("weld"),
            std::string::npos);
  EXPECT_NE(
      refused(R"({"id": "x", "tasks": [{"id": "rest", "work_minutes": 0}]})", "").find("rest"),
      std::string::npos);
  EXPECT_NE(refused(R"({"id": "x", "scope": {}})", "2031-05-05T07:00").find("passed"),
            std::string::npos);
  const shop::Workplace workplace{std::string(demo::workplace()),
                                  film::workbench::workplace(*bench_)->revision};
  const auto change = [&](const std::string& from, const std::string& to) {
    auto text = workplace.text;
    text.replace(text.find(from), from.size(), to);
    const auto done = set_workplace(*bench_, {text, workplace.revision + 1});
    EXPECT_FALSE(done) << to;
    return done ? std::string() : done.error().message();
  };
  EXPECT_NE(change(R"("from": "08:00", "until": "13:00")", R"("from": "08:00", "until": "08:00")")
                .find("Ysa Marling"),
            std::string::npos);
  EXPECT_NE(change("Europe/Berlin", "Europe/Nowhere").find("Nowhere"), std::string::npos);
}

}  // namespace
}  // namespace film::workbench
