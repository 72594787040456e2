#include "host/priority.h"

#include <thread>

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <unistd.h>

namespace film::host {
namespace {

int niceness() { return ::getpriority(PRIO_PROCESS, static_cast<id_t>(::gettid())); }

TEST(GiveWay, LowersTheThreadAndThoseItStartsAndNoOther) {
  const int before = niceness();
  int own = 0;
  int started = 0;
  std::thread([&own, &started] {
    give_way();
    own = niceness();
    std::thread([&started] { started = niceness(); }).join();
  }).join();
  EXPECT_GT(own, before);
  EXPECT_EQ(started, own);
  EXPECT_EQ(niceness(), before);
}

}  // namespace
}  // namespace film::host
