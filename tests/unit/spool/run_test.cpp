#include "spool/run.h"

#include <gtest/gtest.h>

namespace film::spool {
namespace {

TEST(RunTest, EntriesReadBackAsTheyWereWritten) {
  for (const Entry& entry : {Entry{Mark::opened, 0, "tcp:host:9100"}, Entry{Mark::begun, 17, {}},
                             Entry{Mark::interrupted, 0, "the line is lost: no such device"},
                             Entry{Mark::found_uncut, 3, "torn"}, Entry{Mark::finished, 0, {}}}) {
    EXPECT_EQ(entry_from(text_of(entry)).value(), entry) << text_of(entry);
  }
  for (const char* line : {"", "begun", "begun x", "begun 1x", "begun -1", "cut 3"}) {
    EXPECT_EQ(entry_from(line).error().code, ErrorCode::invalid_input) << line;
  }
  EXPECT_EQ(text_of({Mark::given_up, 0, "two\nlines"}), "given_up two lines");
}

Run begun_two() {
  spool::Run run(3);
  EXPECT_TRUE(run.apply({Mark::opened, 0, ""}));
  EXPECT_TRUE(run.apply({Mark::begun, 0, ""}));
  EXPECT_TRUE(run.apply({Mark::done, 0, ""}));
  EXPECT_TRUE(run.apply({Mark::begun, 1, ""}));
  return run;
}

TEST(RunTest, ADoubtfulContourKeepsTheRunClosedUntilSomebodyHasLooked) {
  spool::Run run = begun_two();
  EXPECT_TRUE(run.apply({Mark::interrupted, 0, "line lost"}));
  EXPECT_EQ(run.apply({Mark::opened, 0, ""}).error().code, ErrorCode::conflict);
  EXPECT_TRUE(run.apply({Mark::found_uncut, 1, ""}));
  EXPECT_TRUE(run.apply({Mark::opened, 0, ""}));
  EXPECT_EQ(run.in(ContourState::cut), (std::vector<std::size_t>{0}));
  EXPECT_EQ(run.in(ContourState::waiting), (std::vector<std::size_t>{1, 2}));
}

TEST(RunTest, NothingIsBegunTwiceAndNothingFollowsTheEnd) {
  spool::Run run = begun_two();
  EXPECT_FALSE(run.apply({Mark::begun, 0, ""}));
  EXPECT_FALSE(run.apply({Mark::begun, 1, ""}));
  EXPECT_FALSE(run.apply({Mark::begun, 3, ""}));
  EXPECT_FALSE(run.apply({Mark::done, 2, ""}));
  EXPECT_FALSE(run.apply({Mark::finished, 0, ""}));
  EXPECT_TRUE(run.apply({Mark::given_up, 0, "blade broke"}));
  EXPECT_TRUE(run.over());
  EXPECT_FALSE(run.apply({Mark::opened, 0, ""}));
}

TEST(RunTest, WhatWasAllSentIsNotWhenSomeIsFoundUncut) {
  spool::Run run(1);
  EXPECT_TRUE(run.apply({Mark::opened, 0, ""}));
  EXPECT_FALSE(run.apply({Mark::all_sent, 0, ""}));
  EXPECT_TRUE(run.apply({Mark::begun, 0, ""}));
  EXPECT_TRUE(run.apply({Mark::all_sent, 0, ""}));
  EXPECT_EQ(run.state(), RunState::unconfirmed);
  EXPECT_TRUE(run.apply({Mark::found_uncut, 0, ""}));
  EXPECT_EQ(run.state(), RunState::interrupted);
}

}  // namespace
}  // namespace film::spool
