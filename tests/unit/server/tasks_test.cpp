#include "server/tasks.h"

#include <atomic>
#include <chrono>
#include <future>
#include <stdexcept>
#include <thread>

#include <gtest/gtest.h>

namespace film::server {
namespace {

std::string describe(const TaskView& task) { return std::string(name_of(task.state)); }

void wait_until(const std::function<bool()>& true_now) {
  for (int i = 0; i < 2000 && !true_now(); ++i) {
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  ASSERT_TRUE(true_now());
}

TEST(Tasks, AListenerHearsBetterResultsAndTheEnd) {
  Tasks tasks(describe);
  std::promise<void> go;
  const auto view = tasks.start("layout", "J-1", "clear", [&go](TaskVoice& voice) -> Result<void> {
    go.get_future().wait();
    voice.tell("layout", [](double) { return "one"; });
    voice.tell("layout", [](double) { return "two"; });
    return {};
  });
  ASSERT_TRUE(view);
  const auto stream = tasks.follow(view->id, 0).value();
  EXPECT_FALSE(stream->next().last);
  std::atomic<int> woken{0};
  stream->on_news([&woken] { ++woken; });
  go.set_value();
  wait_until([&] { return tasks.find(view->id)->state == TaskState::done; });
  const auto batch = stream->next();
  EXPECT_TRUE(batch.last);
  EXPECT_GE(woken, 1);
  EXPECT_EQ(batch.text, "id: 2\nevent: layout\ndata: two\n\nid: 3\nevent: done\ndata: done\n\n");
}

TEST(Tasks, ALateListenerGetsTheNewestOfEachAndAReturningOneOnlyWhatItMissed) {
  Tasks tasks(describe);
  const auto view = tasks.start("layout", "J-1", "clear", [](TaskVoice& voice) -> Result<void> {
    voice.tell("layout", [](double) { return "one"; });
    return {};
  });
  wait_until([&] { return tasks.find(view->id)->state == TaskState::done; });
  EXPECT_NE(tasks.follow(view->id, 0).value()->next().text.find("data: one"), std::string::npos);
  const auto after = tasks.follow(view->id, 1).value()->next();
  EXPECT_EQ(after.text, "id: 2\nevent: done\ndata: done\n\n");
  EXPECT_TRUE(after.last);
}

TEST(Tasks, StopReachesTheWorkAndTheBestIsKept) {
  Tasks tasks(describe);
  const auto view = tasks.start("layout", "J-1", "clear", [](TaskVoice& voice) -> Result<void> {
    while (!voice.stopped()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    return {};
  });
  EXPECT_EQ(tasks.stop(view->id)->state, TaskState::stopping);
  wait_until([&] { return tasks.find(view->id)->state == TaskState::done; });
}

TEST(Tasks, OneTaskForEachJobAndFilm) {
  Tasks tasks(describe);
  const auto until_stopped = [](TaskVoice& voice) -> Result<void> {
    while (!voice.stopped()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    return {};
  };
  ASSERT_TRUE(tasks.start("layout", "J-1", "clear", until_stopped));
  EXPECT_EQ(tasks.start("layout", "J-1", "clear", until_stopped).error().code, ErrorCode::conflict);
  EXPECT_TRUE(tasks.start("layout", "J-1", "black", until_stopped));
  EXPECT_EQ(tasks.running(), 2u);
  tasks.close();
  EXPECT_EQ(tasks.running(), 0u);
  EXPECT_FALSE(tasks.start("layout", "J-2", "clear", until_stopped));
}

TEST(Tasks, AFailureAndAnExceptionAreTold) {
  Tasks tasks(describe);
  const auto failed = tasks.start("layout", "J-1", "a", [](TaskVoice&) -> Result<void> {
    return fail(ErrorCode::unsupported, "too wide");
  });
  const auto thrown = tasks.start("layout", "J-1", "b", [](TaskVoice&) -> Result<void> {
    throw std::runtime_error("a defect");
  });
  wait_until([&] { return tasks.running() == 0; });
  EXPECT_EQ(tasks.find(failed->id)->problem->what, "too wide");
  EXPECT_EQ(tasks.find(thrown->id)->state, TaskState::failed);
  EXPECT_EQ(tasks.find("T-none").error().code, ErrorCode::not_found);
}

}  // namespace
}  // namespace film::server
