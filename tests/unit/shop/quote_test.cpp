#include "shop/quote.h"

#include <gtest/gtest.h>

#include "shop/quote_names.h"

namespace film::shop {
namespace {

constexpr const char* kMay4 = "2031-05-04T10:00:00Z";

Quote draft() {
  Quote quote;
  quote.id = "Q-0001";
  quote.title = "Full front";
  quote.vehicle = "estate";
  quote.currency = "EUR";
  Alternative offer;
  offer.name = "as it is";
  offer.scope = {{"hood", "clear"}};
  quote.offers = {offer, offer};
  return quote;
}

Quote sent() { return *send(draft(), kMay4, 30); }

TEST(Quote, StandsForItsDaysAndThenExpires) {
  const Quote quote = sent();
  EXPECT_EQ(quote.state, QuoteState::sent);
  EXPECT_EQ(quote.valid_until, "2031-06-03");
  EXPECT_EQ(as_of(quote, "2031-06-03T23:59:59Z").state, QuoteState::sent);
  EXPECT_EQ(as_of(quote, "2031-06-04T00:00:00Z").state, QuoteState::expired);
  EXPECT_EQ(accept(quote, 0, "Ottoline Brambleby", "2031-06-04T00:00:00Z").error().code,
            ErrorCode::conflict);
}

TEST(Quote, IsAcceptedByNameOnceItWasSent) {
  EXPECT_FALSE(accept(draft(), 0, "Ottoline Brambleby", kMay4));
  EXPECT_EQ(accept(sent(), 2, "Ottoline Brambleby", kMay4).error().code, ErrorCode::invalid_input);
  EXPECT_FALSE(accept(sent(), 1, "", kMay4));
  const auto accepted = accept(sent(), 1, "Ottoline Brambleby", kMay4);
  ASSERT_TRUE(accepted);
  EXPECT_EQ(accepted->chosen, 1u);
  EXPECT_EQ(accepted->decided_by, "Ottoline Brambleby");
  EXPECT_EQ(accepted->revision, 3);
}

TEST(Quote, IsFrozenOnceAccepted) {
  const Quote accepted = *accept(sent(), 0, "O", kMay4);
  EXPECT_FALSE(send(accepted, kMay4, 30));
  EXPECT_FALSE(accept(accepted, 1, "O", kMay4));
  EXPECT_FALSE(decline(accepted, "O", kMay4));
  EXPECT_FALSE(renew(accepted, kMay4));
  EXPECT_EQ(as_of(accepted, "2039-01-01T00:00:00Z"), accepted);
}

TEST(Quote, HasOneJob) {
  EXPECT_FALSE(with_job(sent(), "J-0001"));
  const auto with = with_job(*accept(sent(), 0, "O", kMay4), "J-0001");
  ASSERT_TRUE(with);
  EXPECT_EQ(with->job, "J-0001");
  EXPECT_FALSE(with_job(*with, "J-0002"));
}

TEST(Quote, ANewVersionReplacesWhatWasSent) {
  const auto renewed = renew(sent(), kMay4);
  ASSERT_TRUE(renewed);
  EXPECT_EQ(renewed->before.state, QuoteState::replaced);
  EXPECT_EQ(renewed->draft.state, QuoteState::draft);
  EXPECT_EQ(renewed->draft.version, 2);
  EXPECT_EQ(renewed->draft.id, "Q-0001");
  EXPECT_EQ(renewed->draft.sent, "");
  const auto again = renew(*decline(sent(), "O", kMay4), kMay4);
  ASSERT_TRUE(again);
  EXPECT_EQ(again->before.state, QuoteState::declined);  // what was decided stays decided
  EXPECT_FALSE(renew(draft(), kMay4));
}

TEST(Quote, WhatDoesNotAddUpIsRefused) {
  EXPECT_TRUE(check(draft()));
  Quote quote = draft();
  quote.offers[1].price.net = Money{100};
  EXPECT_FALSE(check(quote));
  quote.offers[1].price.discount = Money{10};
  quote.offers[1].price.taxes = {{Rate::percent(10), Money{90}, Money{9}}};
  quote.offers[1].price.total = Money{99};
  EXPECT_TRUE(check(quote));
}

TEST(Quote, EachBrokenFieldIsRefused) {
  const auto broken = [](auto change) {
    Quote quote = draft();
    change(quote);
    return !check(quote);
  };
  EXPECT_TRUE(broken([](Quote& q) { q.title.clear(); }));
  EXPECT_TRUE(broken([](Quote& q) { q.vehicle.clear(); }));
  EXPECT_TRUE(broken([](Quote& q) { q.offers.clear(); }));
  EXPECT_TRUE(broken([](Quote& q) { q.offers.resize(7, q.offers.front()); }));
  EXPECT_TRUE(broken([](Quote& q) { q.offers[0].name.clear(); }));
  EXPECT_TRUE(broken([](Quote& q) { q.offers[0].scope.clear(); }));
  EXPECT_TRUE(broken([](Quote& q) { q.offers[0].scope.push_back({"hood", "mist"}); }));
}

TEST(QuoteNames, EveryStateIsReadBack) {
  for (int i = 0; i < 6; ++i) {
    const auto state = static_cast<QuoteState>(i);
    EXPECT_EQ(parse<QuoteState>(name_of(state)), state);
  }
}

TEST(Worked, EachBrokenFieldIsNamed) {
  Worked worked;
  worked.job = "J-0001";
  worked.piece = "hood";
  worked.who = "Barnaby Quill";
  worked.minutes = 45;
  EXPECT_TRUE(check(worked));
  Worked broken = worked;
  broken.minutes = 1441;
  EXPECT_EQ(check(broken).error().where, "hours minutes");
  broken = worked;
  broken.who.clear();
  EXPECT_EQ(check(broken).error().where, "hours who");
  broken = worked;
  broken.piece.clear();
  EXPECT_EQ(check(broken).error().where, "hours piece");
  broken.task = Task::preparation;
  EXPECT_TRUE(check(broken));
}

}  // namespace
}  // namespace film::shop
