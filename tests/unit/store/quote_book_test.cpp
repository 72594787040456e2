// What every store must do with price lists, quotes and hours.

#include "store/quote_book.h"

#include "unit/store/book_of.h"
#include "unit/store/example_book.h"

namespace film::store {
namespace {

class QuotesOf : public BookOf {};

constexpr const char* kThen = "2031-05-04T10:00:00Z";

shop::Quote example_quote() {
  shop::Quote quote;
  quote.title = "Full front";
  quote.customer = "A. Nobody";
  quote.vehicle = "wagon";
  quote.currency = "EUR";
  quote.created = kThen;
  shop::Alternative offer;
  offer.name = "As it is";
  offer.scope = {{"hood", "clear"}};
  offer.work.films = {{"clear", "Clear", 1, 900'000, 1'200'000, shop::FilmBasis::area, 0, 0, 0}};
  offer.work.laying = {40, 30, 52};
  offer.work.covered_area = 880'000;
  offer.price = *shop::price_of(offer.work, shop::PriceList{}, {});
  quote.offers = {offer};
  return quote;
}

TEST_P(QuotesOf, EachPriceListIsKept) {
  EXPECT_FALSE(look([](Book& book) { return book.price_list(0); }));
  shop::PriceList list;
  list.films = {{"clear", Money{41'50}}};
  const auto first = store_->change([&](Book& book) { return book.add(list); });
  ASSERT_TRUE(first);
  EXPECT_EQ(first->revision, 1);
  shop::PriceList dearer = *first;
  dearer.hour = Money{99'00};
  ASSERT_TRUE(store_->change([&](Book& book) { return book.add(dearer); }));
  EXPECT_EQ(look([](Book& book) { return book.price_list(0); })->hour, Money{99'00});
  EXPECT_EQ(look([](Book& book) { return book.price_list(1); }), *first);
  // Who changes the first one now comes too late.
  EXPECT_EQ(store_->change([&](Book& book) { return book.add(*first); }).error().code,
            ErrorCode::conflict);
}

TEST_P(QuotesOf, AQuoteComesBackAsItWasPut) {
  fill(*store_);
  const auto added = store_->change([](Book& book) { return book.add(example_quote()); });
  ASSERT_TRUE(added);
  EXPECT_EQ(added->id, "Q-0001");
  EXPECT_EQ(look([](Book& book) { return book.quote("Q-0001", 0); }), *added);
  EXPECT_FALSE(look([](Book& book) { return book.quote("Q-0001", 2); }));
  EXPECT_FALSE(look([](Book& book) { return book.quote("Q-0002", 0); }));
}

TEST_P(QuotesOf, AStaleWriterIsRefused) {
  shop::Quote quote = *store_->change([](Book& book) { return book.add(example_quote()); });
  quote.title = "Full body";
  ++quote.revision;
  ASSERT_TRUE(store_->change([&](Book& book) { return book.update(quote); }));
  EXPECT_EQ(store_->change([&](Book& book) { return book.update(quote); }).error().code,
            ErrorCode::conflict);
  EXPECT_EQ(look([](Book& book) { return book.quotes("", 10); }).front().title, "Full body");
}

TEST_P(QuotesOf, TheBookItselfFreezesWhatWasAccepted) {
  const shop::Quote draft = *store_->change([](Book& book) { return book.add(example_quote()); });
  const auto put = [this](const shop::Quote& quote) {
    return store_->change([&](Book& book) { return book.update(quote); });
  };
  const shop::Quote sent = *shop::send(draft, kThen, 30);
  ASSERT_TRUE(put(sent));
  const shop::Quote accepted = *shop::accept(sent, 0, "A. Nobody", kThen);
  ASSERT_TRUE(put(accepted));

  const auto tampered = [&](auto change) {
    shop::Quote quote = accepted;
    ++quote.revision;
    change(quote);
    return put(quote);
  };
  EXPECT_FALSE(tampered([](shop::Quote& q) { q.offers[0].name = "Cheaper"; }));
  EXPECT_FALSE(tampered([](shop::Quote& q) { q.state = shop::QuoteState::draft; }));
  EXPECT_FALSE(tampered([](shop::Quote& q) { q.customer = "B. Nobody"; }));
  EXPECT_EQ(look([](Book& book) { return book.quote("Q-0001", 0); }), accepted);

  const shop::Quote with_job = *shop::with_job(accepted, "J-0001");
  ASSERT_TRUE(put(with_job));
  EXPECT_EQ(look([](Book& book) { return book.quote("Q-0001", 0); })->job, "J-0001");
  shop::Quote another = with_job;
  another.job = "J-0002";
  ++another.revision;
  EXPECT_FALSE(put(another));
}

TEST_P(QuotesOf, VersionsStandSideBySide) {
  const shop::Quote draft = *store_->change([](Book& book) { return book.add(example_quote()); });
  const shop::Quote sent = *shop::send(draft, kThen, 30);
  ASSERT_TRUE(store_->change([&](Book& book) { return book.update(sent); }));
  const shop::Renewed renewed = *shop::renew(sent, kThen);
  ASSERT_TRUE(store_->change([&](Book& book) -> Result<void> {
    if (auto put = book.update(renewed.before); !put) return put;
    book.add(renewed.draft);
    return {};
  }));
  const auto versions = look([](Book& book) { return book.quote_versions("Q-0001"); });
  ASSERT_EQ(versions.size(), 2u);
  EXPECT_EQ(versions[0].state, shop::QuoteState::replaced);
  EXPECT_EQ(versions[1].state, shop::QuoteState::draft);
  const shop::Quote other = *store_->change([](Book& book) { return book.add(example_quote()); });
  EXPECT_EQ(other.id, "Q-0002");
  const auto newest = look([](Book& book) { return book.quotes("", 10); });
  ASSERT_EQ(newest.size(), 2u);
  EXPECT_EQ(newest[0].id, "Q-0002");
  EXPECT_EQ(newest[1].version, 2);
  EXPECT_EQ(look([](Book& book) { return book.quotes("", 1); }).size(), 1u);
  EXPECT_EQ(look([](Book& book) { return book.quotes("Q-0002", 10); }).front().id, "Q-0001");
  EXPECT_TRUE(look([](Book& book) { return book.quotes("Q-0001", 10); }).empty());
}

TEST_P(QuotesOf, HoursAreKeptInOrder) {
  fill(*store_);
  shop::Worked worked;
  worked.job = "J-0001";
  worked.piece = "hood";
  worked.who = "A. Nobody";
  worked.minutes = 95;
  worked.at = kThen;
  worked.amounts = {1, 1.2345678901234567, 0.1, 0, 0, 3, 0, 0, 0, 1e-9};
  const auto first = store_->change([&](Book& book) { return book.append(worked); });
  ASSERT_TRUE(first);
  shop::Worked strike = *first;
  strike.strikes = first->entry;
  const auto second = store_->change([&](Book& book) { return book.append(strike); });
  ASSERT_TRUE(second);
  EXPECT_EQ(look([](Book& book) { return book.worked("J-0001"); }),
            (std::vector<shop::Worked>{*first, *second}));
  EXPECT_EQ(look([&](Book& book) { return book.worked_after(first->entry); }),
            std::vector<shop::Worked>{*second});
  worked.job = "J-9999";
  EXPECT_FALSE(store_->change([&](Book& book) { return book.append(worked); }));
}

INSTANTIATE_TEST_SUITE_P(Each, QuotesOf, kinds_of_book(),
                         [](const auto& each) { return each.param.name; });

}  // namespace
}  // namespace film::store
