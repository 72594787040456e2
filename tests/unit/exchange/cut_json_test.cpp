#include "exchange/cut_json.h"

#include <gtest/gtest.h>

#include "support/torture.h"

namespace film::exchange {
namespace {

TEST(ReadCutPlan, ReadsBackTheSamePlanBitForBit) {
  const auto plan = cutting::plan_cut(test::torture_job(), test::plain_profile(0.5), {});
  ASSERT_TRUE(plan);
  const auto again = read_cut_plan(write_cut_plan(*plan));
  ASSERT_TRUE(again) << again.error().message();
  EXPECT_EQ(*again, *plan);
}

TEST(ReadCutPlan, RefusesWhatIsNoPlan) {
  EXPECT_FALSE(read_cut_plan("{}"));
  EXPECT_FALSE(read_cut_plan("[]"));
  EXPECT_EQ(read_cut_plan(R"({"version":99})").error().code, ErrorCode::unsupported);
}

}  // namespace
}  // namespace film::exchange
