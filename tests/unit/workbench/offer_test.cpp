// From a scope to a price, a quote and its job, on a vehicle of a few flat panels.

#include <gtest/gtest.h>

#include "store/store.h"
#include "workbench/papers.h"
#include "workbench/price_list.h"
#include "workbench/price_offer.h"
#include "workbench/promise_offer.h"
#include "workbench/quote_work.h"
#include "workbench/record_hours.h"
#include "workbench/share_job.h"

namespace film::workbench {
namespace {

/// A flat sheet, `length` x `height` mm, at shoulder height.
shop::Panel sheet(const std::string& id, double length, double height, shop::Finish finish) {
  shop::Panel panel;
  panel.id = panel.name = id;
  panel.zone = "front";
  panel.finish = finish;
  constexpr VertexIndex kAcross = 4;
  for (VertexIndex j = 0; j <= kAcross; ++j) {
    for (VertexIndex i = 0; i <= kAcross; ++i) {
      panel.surface.points.push_back({length * i / kAcross, 500, 600 + height * j / kAcross});
    }
  }
  for (VertexIndex j = 0; j < kAcross; ++j) {
    for (VertexIndex i = 0; i < kAcross; ++i) {
      const VertexIndex a = j * (kAcross + 1) + i;
      const VertexIndex d = a + kAcross + 1;
      panel.surface.triangles.push_back({a, d, d + 1});
      panel.surface.triangles.push_back({a, d + 1, a + 1});
    }
  }
  return panel;
}

shop::Film film(const std::string& id, shop::Gloss gloss, std::vector<shop::Finish> suits) {
  shop::Film film;
  film.id = film.name = id;
  film.gloss = gloss;
  film.suits = std::move(suits);
  return film;
}

class Offers : public testing::Test {
 protected:
  void SetUp() override {
    using shop::Finish;
    workbench_ = workbench_in_memory().value();
    shop::VehicleModel vehicle;
    vehicle.id = "box";
    vehicle.name = "A box on wheels";
    vehicle.panels = {
        sheet("hood", 1000, 600, Finish::gloss_paint), sheet("side", 800, 500, Finish::gloss_paint),
        sheet("trim", 400, 100, Finish::gloss_black), sheet("nose", 300, 200, Finish::gloss_paint)};
    vehicle.panels[3].sensor = true;
    ASSERT_TRUE(workbench_->store().change([&](store::Book& book) {
      shop::Settings settings;
      settings.name = "Test shop";
      book.put(settings);
      book.put(film("clear", shop::Gloss::gloss, {Finish::gloss_paint, Finish::gloss_black}));
      book.put(film("mist", shop::Gloss::matte, {Finish::gloss_paint}));
      EXPECT_TRUE(book.receive(
          shop::Roll{"R-1", "clear", "L1", Mm{1524}, Mm{9000}, Mm{7000}, "2031-05-04", ""}, "Ida",
          "2031-05-04T08:00:00Z"));
      return book.add(vehicle);
    }));
  }

  OfferOrder order(std::vector<shop::ScopeItem> scope) {
    OfferOrder order;
    order.vehicle = "box";
    order.scope = std::move(scope);
    order.study = true;
    return order;
  }
  PricedOffer price(const OfferOrder& order) {
    auto offer = price_offer(*workbench_, order, {});
    EXPECT_TRUE(offer) << (offer ? "" : offer.error().message());
    return offer.value_or(PricedOffer{});
  }
  shop::Quote draft(std::vector<shop::ScopeItem> scope = {{"hood", "clear"}}) {
    QuoteDraft draft;
    draft.title = "Full front";
    draft.customer = "A. Nobody";
    draft.vehicle = "box";
    draft.offers = {{"As it is", "full_front", "as_it_is", scope, false, {}},
                    {"Coated", "", "", scope, true, {shop::Rate::percent(5)}}};
    auto quote = draft_quote(*workbench_, draft, {});
    EXPECT_TRUE(quote) << (quote ? "" : quote.error().message());
    return quote.value_or(shop::Quote{});
  }

  std::unique_ptr<Workbench> workbench_;
};

TEST_F(Offers, FilmComesFromALayoutOfTheRealPieces) {
  const PricedOffer offer = price(order({{"hood", "clear"}, {"side", "clear"}}));
  ASSERT_EQ(offer.work.films.size(), 1u);
  const shop::FilmAmount& film = offer.work.films.front();
  EXPECT_EQ(film.basis, shop::FilmBasis::layout);
  EXPECT_EQ(film.pieces, 2u);
  EXPECT_EQ(film.in_stock, 7000);
  EXPECT_GE(film.area, 1'000'000);  // the panels' own area and their tucks
  EXPECT_GT(film.needed, film.area);
  EXPECT_NEAR(static_cast<double>(film.needed), film.length * 1524, 1);
  EXPECT_LT(film.length, 1800);
  EXPECT_EQ(offer.work.covered_area, 1'000'000);  // 1000 x 600 + 800 x 500
  EXPECT_TRUE(offer.waiting.empty());
}

// The hood is 1000 x 600: an offcut of 1150 x 720 takes it, and the film of the roll is saved.
TEST_F(Offers, AnOffcutIsUsedFirstAndCountsWithItsWorth) {
  const PricedOffer before = price(order({{"hood", "clear"}}));
  ASSERT_TRUE(workbench_->store().change([](store::Book& book) {
    shop::Offcut offcut;
    offcut.film = "clear";
    offcut.lot = "L1";
    offcut.outline = {{{0, 0}, {1150, 0}, {1150, 720}, {0, 720}}, {}};
    offcut.kept = "2031-05-05";
    book.add(offcut, "Ida", "2031-05-05T08:00:00Z");
  }));
  const PricedOffer after = price(order({{"hood", "clear"}}));
  const shop::FilmAmount& film = after.work.films.front();
  ASSERT_EQ(film.cuts.size(), 1u);
  EXPECT_TRUE(film.cuts.front().offcut);
  EXPECT_EQ(film.cuts.front().pieces, 1u);
  EXPECT_EQ(film.length, 0);
  EXPECT_EQ(film.needed, 414'000);  // half of 0.828 m^2
  EXPECT_LT(after.price.total, before.price.total);
  EXPECT_FALSE(before.work.films.front().cuts.front().offcut);
  // What the offcut cannot take comes from the roll, in the same offer.
  const PricedOffer both = price(order({{"hood", "clear"}, {"side", "clear"}}));
  ASSERT_EQ(both.work.films.front().cuts.size(), 2u);
  EXPECT_GT(both.work.films.front().length, 500);
}

TEST_F(Offers, FilmThatRunsOutIsReckonedByAreaWithOneNote) {
  const PricedOffer many = price(order({{"hood", "clear"}, {"side", "clear"}}));
  ASSERT_TRUE(workbench_->store().change([](store::Book& book) {
    auto line = shop::write_off(*book.roll("R-1"), Mm{6990}, "spoiled");
    line->who = "Ida";
    line->at = "2031-05-06T08:00:00Z";
    return book.enter(*line);
  }));
  const PricedOffer none = price(order({{"hood", "clear"}, {"side", "clear"}}));
  EXPECT_EQ(none.work.films.front().basis, shop::FilmBasis::area);
  EXPECT_TRUE(none.work.films.front().cuts.empty());
  EXPECT_EQ(none.work.notes.size(), 1u);
  EXPECT_TRUE(many.work.notes.empty());
}

TEST_F(Offers, AnAmountComesOffBesideTheShare) {
  OfferOrder with = order({{"hood", "clear"}});
  const PricedOffer before = price(with);
  with.discount = {shop::Rate::percent(10), Money{25'00}};
  const PricedOffer after = price(with);
  const auto tenth = shop::share(before.price.net, shop::Rate::percent(10));
  // Shares are rounded line by line: a cent for each of the lines at most.
  EXPECT_NEAR(static_cast<double>(after.price.discount.minor),
              static_cast<double>(tenth->minor + 25'00), 5);
  with.discount = {{}, before.price.net + Money{1}};
  EXPECT_EQ(price_offer(*workbench_, with, {}).error().code, ErrorCode::invalid_input);
}

TEST_F(Offers, WithoutPeopleAndBaysThereIsNoDateAndTheReason) {
  const auto promise = promise_offer(*workbench_, order({{"hood", "clear"}}), {});
  ASSERT_TRUE(promise);
  EXPECT_FALSE(promise->by);
  EXPECT_FALSE(promise->reason.empty());
  EXPECT_EQ(promise->chance, 0.9);
}

TEST_F(Offers, AQuoteIsAPaperWithoutWhatItCostsTheShop) {
  const shop::Quote quote = draft();
  const auto pdf = write_quote_paper(*workbench_, quote.id, 0);
  ASSERT_TRUE(pdf) << pdf.error().message();
  EXPECT_EQ(pdf->substr(0, 5), "%PDF-");
  EXPECT_EQ(write_quote_paper(*workbench_, "Q-0009", 0).error().code, ErrorCode::not_found);
  EXPECT_EQ(write_quote_paper(*workbench_, quote.id, 7).error().code, ErrorCode::not_found);
}

TEST_F(Offers, ACustomersLinkLeadsToTheAcceptedQuote) {
  const shop::Quote quote = draft();
  ASSERT_TRUE(send_quote(*workbench_, {quote.id, 0}));
  const auto accepted = accept_quote(*workbench_, {quote.id, 0}, 0, "A. Nobody", "desk");
  ASSERT_TRUE(accepted);
  const auto link = share_job(*workbench_, accepted->job.id, 30, "desk");
  ASSERT_TRUE(link);
  EXPECT_EQ(shared_quote(*workbench_, link->token).value(), quote.id);
  EXPECT_EQ(shared_quote(*workbench_, "guessed").error().code, ErrorCode::not_found);
}

TEST_F(Offers, AnotherPanelCostsMoreAndTakesLonger) {
  const PricedOffer one = price(order({{"hood", "clear"}}));
  const PricedOffer two = price(order({{"hood", "clear"}, {"side", "clear"}}));
  EXPECT_GT(two.price.total, one.price.total);
  EXPECT_GT(two.work.laying.expected, one.work.laying.expected);
  EXPECT_LT(two.work.laying.low, two.work.laying.expected);
  EXPECT_GT(two.work.laying.high, two.work.laying.expected);
  EXPECT_EQ(price(order({})).price.total, Money{0});
}

TEST_F(Offers, WhatNobodyStudiedIsReckonedByAreaAndTold) {
  OfferOrder quick = order({{"hood", "clear"}});
  quick.study = false;
  const PricedOffer before = price(quick);
  EXPECT_EQ(before.waiting, quick.scope);
  EXPECT_EQ(before.work.films.front().basis, shop::FilmBasis::area);
  EXPECT_EQ(before.work.films.front().needed, 780'000);  // 0.6 m^2 and 30 %
  price(order({{"hood", "clear"}}));
  EXPECT_TRUE(price(quick).waiting.empty());
  EXPECT_EQ(price(quick).work.films.front().basis, shop::FilmBasis::layout);
}

TEST_F(Offers, AFilmWithoutARollIsReckonedByAreaWithANote) {
  const PricedOffer offer = price(order({{"hood", "mist"}}));
  EXPECT_EQ(offer.work.films.front().basis, shop::FilmBasis::area);
  EXPECT_EQ(offer.work.notes.size(), 1u);
}

TEST_F(Offers, WhatMustBeSignedIsTold) {
  const PricedOffer offer = price(order({{"nose", "clear"}}));
  ASSERT_EQ(offer.concerns.size(), 1u);
  EXPECT_EQ(offer.concerns.front().concern, shop::Concern::sensor);
}

TEST_F(Offers, ScopesThatCannotBeAreRefused) {
  EXPECT_EQ(price_offer(*workbench_, order({{"wing", "clear"}}), {}).error().code,
            ErrorCode::not_found);
  EXPECT_EQ(price_offer(*workbench_, order({{"hood", "none"}}), {}).error().code,
            ErrorCode::not_found);
  EXPECT_EQ(price_offer(*workbench_, order({{"trim", "mist"}}), {}).error().code,
            ErrorCode::invalid_input);
  EXPECT_EQ(
      price_offer(*workbench_, order({{"hood", "clear"}, {"hood", "clear"}}), {}).error().code,
      ErrorCode::invalid_input);
}

TEST_F(Offers, RulesProposeByFinish) {
  const auto proposals = propose_scope(*workbench_, "box", "full_front", "matte_conversion");
  ASSERT_TRUE(proposals);
  EXPECT_EQ(shop::scope_of(*proposals),
            (std::vector<shop::ScopeItem>{{"hood", "mist"}, {"side", "mist"}, {"trim", "clear"}}));
  EXPECT_EQ(propose_all(*workbench_, "box", "as_it_is")->size(), 4u);
  EXPECT_EQ(propose_scope(*workbench_, "box", "nothing", "as_it_is").error().code,
            ErrorCode::not_found);
}

TEST_F(Offers, AQuoteGoesFromDraftToJob) {
  const shop::Quote quote = draft({{"hood", "clear"}, {"side", "clear"}});
  EXPECT_EQ(quote.id, "Q-0001");
  ASSERT_EQ(quote.offers.size(), 2u);
  EXPECT_GT(quote.offers[1].price.discount, Money{0});
  EXPECT_GT(quote.offers[1].work.coated_area, 0);
  const auto sent = send_quote(*workbench_, {quote.id, quote.revision});
  ASSERT_TRUE(sent);
  EXPECT_EQ(send_quote(*workbench_, {quote.id, quote.revision}).error().code, ErrorCode::conflict);
  const auto accepted = accept_quote(*workbench_, {quote.id, 0}, 0, "A. Nobody", "desk");
  ASSERT_TRUE(accepted);
  EXPECT_EQ(accepted->quote.state, shop::QuoteState::accepted);
  EXPECT_EQ(accepted->quote.job, accepted->job.id);
  EXPECT_EQ(accepted->job.scope, quote.offers[0].scope);
  EXPECT_EQ(accepted->job.customer, "A. Nobody");
  EXPECT_FALSE(accept_quote(*workbench_, {quote.id, 0}, 1, "A. Nobody", "desk"));
  EXPECT_EQ(workbench::quote(*workbench_, quote.id)->offers, quote.offers);
}

TEST_F(Offers, ADraftIsReckonedAnewAndANewVersionBeginsFromTheLast) {
  const shop::Quote first = draft();
  QuoteDraft change;
  change.id = first.id;
  change.revision = first.revision;
  change.title = "Only the side";
  change.vehicle = "box";
  change.offers = {{"As it is", "", "", {{"side", "clear"}}, false, {}}};
  const auto changed = draft_quote(*workbench_, change, {});
  ASSERT_TRUE(changed);
  EXPECT_EQ(changed->revision, 2);
  EXPECT_LT(changed->offers[0].price.total, first.offers[0].price.total);
  EXPECT_EQ(draft_quote(*workbench_, change, {}).error().code, ErrorCode::conflict);

  ASSERT_TRUE(send_quote(*workbench_, {first.id, 0}));
  change.revision = 0;
  EXPECT_EQ(draft_quote(*workbench_, change, {}).error().code, ErrorCode::conflict);
  const auto renewed = renew_quote(*workbench_, {first.id, 0});
  ASSERT_TRUE(renewed);
  EXPECT_EQ(renewed->version, 2);
  EXPECT_EQ(renewed->offers, changed->offers);
  EXPECT_EQ(quote_versions(*workbench_, first.id)->front().state, shop::QuoteState::replaced);
  EXPECT_EQ(quotes(*workbench_)->quotes.size(), 1u);
}

TEST_F(Offers, ThePriceOfAnAcceptedQuoteOutlivesANewPriceList) {
  const shop::Quote quote = draft();
  ASSERT_TRUE(send_quote(*workbench_, {quote.id, 0}));
  ASSERT_TRUE(accept_quote(*workbench_, {quote.id, 0}, 0, "A. Nobody", "desk"));
  shop::PriceList list = *price_list(*workbench_);
  EXPECT_EQ(list.revision, 0);
  list.hour = Money{999'00};
  ASSERT_TRUE(keep_price_list(*workbench_, list, "lead"));
  EXPECT_EQ(price_list(*workbench_)->revision, 1);
  EXPECT_EQ(workbench::quote(*workbench_, quote.id)->offers, quote.offers);
  EXPECT_GT(price(order({{"hood", "clear"}})).price.total, quote.offers[0].price.total);
  list.revision = 1;
  list.films = {{"unknown", Money{1}}};
  EXPECT_EQ(keep_price_list(*workbench_, list, "lead").error().code, ErrorCode::invalid_input);
}

TEST_F(Offers, RecordedHoursChangeTheNextEstimate) {
  const shop::Quote quote = draft({{"hood", "clear"}, {"side", "clear"}});
  ASSERT_TRUE(send_quote(*workbench_, {quote.id, 0}));
  const std::string job = accept_quote(*workbench_, {quote.id, 0}, 0, "A. N.", "desk")->job.id;
  const auto before = price(order({{"hood", "clear"}})).work.laying;
  HoursEntry entry{job, shop::Task::laying, "hood", "Slow", 0, "", 0};
  entry.minutes = 4 * before.expected;
  const auto first = record_hours(*workbench_, entry, {});
  ASSERT_TRUE(first);
  EXPECT_GT(first->amounts[0], 0);
  for (int i = 0; i < 5; ++i) ASSERT_TRUE(record_hours(*workbench_, entry, {}));
  EXPECT_GT(price(order({{"hood", "clear"}})).work.laying.expected, before.expected);
  const auto learnt = learnt_hours(*workbench_);
  ASSERT_TRUE(learnt);
  EXPECT_EQ(learnt->records, 6u);
  EXPECT_GT(learnt->paces.at("Slow").factor, 1);

  entry.strikes = first->entry;
  ASSERT_TRUE(record_hours(*workbench_, entry, {}));
  EXPECT_EQ(learnt_hours(*workbench_)->records, 5u);
  EXPECT_EQ(record_hours(*workbench_, entry, {}).error().code, ErrorCode::conflict);
  EXPECT_EQ(hours_of(*workbench_, job)->size(), 7u);
  entry.strikes = 0;
  entry.piece = "trim";
  EXPECT_EQ(record_hours(*workbench_, entry, {}).error().code, ErrorCode::not_found);
}

}  // namespace
}  // namespace film::workbench
