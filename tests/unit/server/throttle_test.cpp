#include "server/throttle.h"

#include <gtest/gtest.h>

namespace film::server {
namespace {

TEST(Throttle, TheFirstFailuresAreFreeThenTheWaitDoublesUpToAQuarterOfAnHour) {
  Throttle throttle(5);
  double now = 100;
  for (int i = 0; i < 5; ++i) {
    EXPECT_EQ(throttle.wait("ada", now), 0);
    throttle.failed("ada", now);
  }
  EXPECT_EQ(throttle.wait("ada", now), 1);
  EXPECT_EQ(throttle.wait("bo", now), 0);
  throttle.failed("ada", now);
  EXPECT_EQ(throttle.wait("ada", now), 2);
  EXPECT_EQ(throttle.wait("ada", now + 2), 0);
  for (int i = 0; i < 30; ++i) throttle.failed("ada", now);
  EXPECT_EQ(throttle.wait("ada", now), 900);
  throttle.forget("ada");
  EXPECT_EQ(throttle.wait("ada", now), 0);
}

TEST(Throttle, AFloodOfNamesTakesNoMemoryWithoutEnd) {
  Throttle throttle(0);
  for (int i = 0; i < 30000; ++i) throttle.failed(std::to_string(i), i);
  EXPECT_GT(throttle.wait("29999", 29999), 0);
}

}  // namespace
}  // namespace film::server
