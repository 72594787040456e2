#include "exchange/laying_json.h"

#include <gtest/gtest.h>

namespace film::exchange {
namespace {

surface::Laying example() {
  surface::Laying laying;
  laying.method = {surface::Choice::bulk, {"The edge curls into a lip."}};
  surface::ReliefCut cut;
  cut.on_panel = {{1, 2, 3}, {4, 5, 6.5}};
  cut.on_film = {{1, 2}, {4, 5.25}};
  cut.length = Mm{6.1};
  cut.opening = Mm{2};
  cut.visibility = 0.3;
  cut.surplus = 71;
  cut.gain_per_cm = 116.4;
  cut.least_stretch = 0.98;
  cut.peak_stretch = 1.03;
  cut.words = "Relief cut 1";
  laying.relief = {{cut}, 100, 29, "1 relief cut"};
  surface::SeamPart part;
  part.area = 5;
  part.reach.width = Mm{700};
  part.reach.fits = true;
  laying.seams = {{{{{0, 0, 0}, {1, 0, 0}}, {{0, 0}, {1, 0}}, Mm{1}, 0.5, "Seam 1"}},
                  {part, part},
                  true,
                  "2 parts instead of one"};
  surface::BulkPlan bulk;
  bulk.sheet = {{{0, 0}, {10, 0}, {10, 5}, {0, 5}}};
  bulk.length = Mm{10};
  bulk.width = Mm{5};
  bulk.anchors = {{{5, 2}, {5, 2, 1}}};
  bulk.slack_cuts = {{surface::SlackCut::Why::bay, {{{0, 0}, {2, 2}}}}};
  surface::Pull pull;
  pull.from = {5, 2};
  pull.to = {9, 2};
  pull.amount = Mm{3};
  pull.words = "Pull";
  bulk.pulls = {pull};
  bulk.draws_back_along = Mm{2.1};
  bulk.steps = {"Cut", "Lay"};
  laying.bulk = bulk;
  return laying;
}

TEST(LayingJson, WhatIsReadWritesTheSameBytes) {
  const std::string bytes = write_laying(example());
  const auto read = read_laying(bytes);
  ASSERT_TRUE(read) << read.error().message();
  EXPECT_EQ(write_laying(*read), bytes);
  EXPECT_EQ(read->relief.cuts.front().words, "Relief cut 1");
  ASSERT_TRUE(read->bulk);
  EXPECT_EQ(read->bulk->slack_cuts.front().why, surface::SlackCut::Why::bay);
}

TEST(LayingJson, APrecutPieceHasNoSheet) {
  surface::Laying laying = example();
  laying.method.choice = surface::Choice::precut;
  laying.bulk.reset();
  const auto read = read_laying(write_laying(laying));
  ASSERT_TRUE(read);
  EXPECT_FALSE(read->bulk);
  EXPECT_EQ(read->method.choice, surface::Choice::precut);
}

TEST(LayingJson, OtherTextIsRefused) {
  for (const char* text : {"", "[]", "{}", "{\"method\": 3}", "\xff"}) {
    const auto read = read_laying(text);
    ASSERT_FALSE(read) << text;
    EXPECT_EQ(read.error().code, ErrorCode::invalid_input);
  }
}

}  // namespace
}  // namespace film::exchange
