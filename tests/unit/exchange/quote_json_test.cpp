#include "exchange/quote_json.h"

#include <gtest/gtest.h>

#include "exchange/price_list_json.h"

namespace film::exchange {
namespace {

shop::PriceList list() {
  shop::PriceList list;
  list.revision = 3;
  list.made = "2031-05-04T10:00:00Z";
  list.who = "Barnaby Quill";
  list.films = {{"clear", Money{41'50}}};
  list.tax = shop::Rate{88'750};
  list.hours.minutes[1] = 15.5;
  list.packages = shop::usual_packages();
  shop::Film clear;
  clear.id = clear.name = "clear";
  clear.suits = {shop::Finish::gloss_paint};
  list.looks = shop::usual_looks({clear});
  return list;
}

shop::Quote quote() {
  shop::Quote quote;
  quote.id = "Q-0007";
  quote.version = 2;
  quote.state = shop::QuoteState::sent;
  quote.revision = 5;
  quote.title = "Full front, \"as it is\" \xC3\xA9";
  quote.vehicle = "estate";
  quote.language = shop::Language::german;
  quote.currency = "EUR";
  quote.price_list = 3;
  quote.sent = "2031-05-04T10:00:00Z";
  quote.valid_until = "2031-06-03";
  shop::Alternative offer;
  offer.name = "as it is";
  offer.package = "full_front";
  offer.scope = {{"hood", "clear"}};
  offer.coating = true;
  offer.discount = {shop::Rate::percent(5), Money{250}};
  offer.work.films = {
      {"clear", "Clear", 1, 1'500'000, 1'900'000, shop::FilmBasis::layout, 1250.5, 1524, 27400}};
  offer.work.laying = {70, 55, 88};
  offer.work.covered_area = 1'400'000;
  offer.work.coated_area = 1'400'000;
  offer.work.notes = {"the badge comes off"};
  offer.price = *shop::price_of(offer.work, list(), offer.discount);
  quote.offers = {offer};
  return quote;
}

TEST(QuoteJson, IsReadBackAsWritten) {
  EXPECT_EQ(read_quote(write_quote(quote())), quote());
  EXPECT_EQ(read_price_list(write_price_list(list())), list());
}

TEST(QuoteJson, APriceListMayLeaveFieldsOut) {
  const auto read = read_price_list(R"({"hour": 9000, "hours": {"minutes": {"tuck": 7}}})");
  ASSERT_TRUE(read);
  EXPECT_EQ(read->hour, Money{90'00});
  EXPECT_EQ(read->hours.minutes[static_cast<std::size_t>(hours::Term::tuck)], 7);
  EXPECT_EQ(read->deposit, shop::PriceList{}.deposit);
}

TEST(QuoteJson, WhatIsWrongIsNamed) {
  EXPECT_EQ(read_price_list(R"({"hour": 90.5})").error().where, "hour");
  EXPECT_EQ(read_price_list(R"({"hour": -1})").error().where, "price list hour");
  EXPECT_EQ(read_price_list(R"({"hours": {"minutes": {"wash": 7}}})").error().where,
            "hours.minutes");
  EXPECT_NE(read_price_list(R"({"huor": 1})").error().what.find("huor"), std::string::npos);
  EXPECT_FALSE(read_price_list("[]"));
  EXPECT_FALSE(read_price_list("{"));
  EXPECT_FALSE(read_price_list(R"({"hour": 99999999999999999999})"));
  EXPECT_EQ(read_price_list(std::string((1 << 20) + 1, ' ')).error().code, ErrorCode::too_large);
  EXPECT_FALSE(read_quote("{}"));
}

TEST(QuoteJson, AmountsThatDoNotAddUpAreRefused) {
  shop::Quote broken = quote();
  broken.offers[0].price.total = broken.offers[0].price.total + Money{1};
  EXPECT_EQ(read_quote(write_quote(broken)).error().code, ErrorCode::invalid_input);
}

}  // namespace
}  // namespace film::exchange
