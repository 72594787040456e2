#include "shop/money.h"

#include <array>
#include <limits>

#include <gtest/gtest.h>

namespace film::shop {
namespace {

// Every expected amount was worked out by hand.

std::int64_t minor_of(const Result<Money>& amount) {
  EXPECT_TRUE(amount) << (amount ? "" : amount.error().message());
  return amount ? amount->minor : std::numeric_limits<std::int64_t>::min();
}

TEST(Money, RoundsHalfAwayFromZero) {
  EXPECT_EQ(minor_of(times(Money{1}, {1, 2})), 1);    // 0.5
  EXPECT_EQ(minor_of(times(Money{-1}, {1, 2})), -1);  // -0.5
  EXPECT_EQ(minor_of(times(Money{3}, {1, 2})), 2);    // 1.5
  EXPECT_EQ(minor_of(times(Money{5}, {1, 2})), 3);    // 2.5, where half to even gives 2
  EXPECT_EQ(minor_of(times(Money{-5}, {1, 2})), -3);
  EXPECT_EQ(minor_of(times(Money{1}, {1, 3})), 0);  // 0.33
  EXPECT_EQ(minor_of(times(Money{2}, {1, 3})), 1);  // 0.67
  EXPECT_EQ(minor_of(times(Money{-2}, {1, 3})), -1);
  EXPECT_EQ(minor_of(times(Money{7}, {5, 7})), 5);
}

TEST(Money, PricesWorkByTheMinuteAndFilmByTheSquareMillimetre) {
  EXPECT_EQ(minor_of(times(Money{8500}, {95, 60})), 13458);  // 85.00 x 1.5833 = 134.5833
  EXPECT_EQ(minor_of(times(Money{7990}, {1'853'412, 1'000'000})), 14809);  // 148.0876
  EXPECT_EQ(minor_of(times(Money{6433}, {45, 60})), 4825);                 // 48.2475
}

TEST(Money, TaxIsTheRoundedShareOfTheSum) {
  EXPECT_EQ(minor_of(share(Money{123'45}, Rate::percent(19))), 23'46);  // 23.4555
  EXPECT_EQ(minor_of(share(Money{99'99}, Rate::percent(7))), 7'00);     // 6.9993
  EXPECT_EQ(minor_of(share(Money{10'00}, Rate{88'750})), 89);           // 8.875 % is 0.8875
  EXPECT_EQ(minor_of(share(Money{20'00}, Rate{88'750})), 1'78);         // 1.775, half: away
  EXPECT_EQ(minor_of(share(Money{-20'00}, Rate{88'750})), -1'78);
  // Three lines of 0.10 at 19 %: on the sum 0.057 -> 0.06; line by line it would be 3 x 0.02.
  const std::array lines{Money{10}, Money{10}, Money{10}};
  EXPECT_EQ(minor_of(share(*sum(lines), Rate::percent(19))), 6);
}

TEST(Money, RefusesWhatIsPastTheMost) {
  EXPECT_EQ(minor_of(times(kMostMoney, {1, 1})), kMostMoney.minor);
  EXPECT_EQ(times(kMostMoney, {1'000'001, 1'000'000}).error().code, ErrorCode::too_large);
  const std::int64_t most = std::numeric_limits<std::int64_t>::max();
  EXPECT_EQ(times(Money{most}, {most, 1}).error().code, ErrorCode::too_large);
  EXPECT_EQ(times(Money{-most}, {most, 1}).error().code, ErrorCode::too_large);
  const std::array two{kMostMoney, Money{1}};
  EXPECT_EQ(sum(two).error().code, ErrorCode::too_large);
  EXPECT_EQ(times(Money{1}, {1, 0}).error().code, ErrorCode::invalid_input);
}

TEST(Money, SplitsWithoutLosingACent) {
  const std::array<std::int64_t, 3> thirds{1, 1, 1};
  EXPECT_EQ(split(Money{100}, thirds), (std::vector{Money{34}, Money{33}, Money{33}}));
  EXPECT_EQ(split(Money{-100}, thirds), (std::vector{Money{-34}, Money{-33}, Money{-33}}));
  // 10.01 over 250, 150, 600: 2.5025, 1.5015, 6.006; the cent goes to the largest remainder.
  const std::array<std::int64_t, 3> lines{250, 150, 600};
  EXPECT_EQ(split(Money{1001}, lines), (std::vector{Money{250}, Money{150}, Money{601}}));
  const std::array<std::int64_t, 2> nothing{0, 0};
  EXPECT_EQ(split(Money{7}, nothing), (std::vector{Money{7}, Money{0}}));
}

TEST(Money, KnowsTheDigitsOfIso4217) {
  EXPECT_EQ(minor_digits("EUR"), 2);
  EXPECT_EQ(minor_digits("USD"), 2);
  EXPECT_EQ(minor_digits("JPY"), 0);
  EXPECT_EQ(minor_digits("KRW"), 0);
  EXPECT_EQ(minor_digits("KWD"), 3);
  EXPECT_EQ(minor_digits("CLF"), 4);
}

TEST(Money, IsWrittenInTheWayOfTheLanguage) {
  const Money amount{1'234'567'89};
  EXPECT_EQ(text_of(amount, "EUR", Language::english), "€1,234,567.89");
  EXPECT_EQ(text_of(amount, "EUR", Language::german), "1.234.567,89\u00a0€");
  EXPECT_EQ(text_of(Money{-5}, "USD", Language::english), "-$0.05");
  EXPECT_EQ(text_of(Money{-5}, "USD", Language::german), "-0,05\u00a0$");
  EXPECT_EQ(text_of(Money{1500}, "JPY", Language::english), "¥1,500");
  EXPECT_EQ(text_of(Money{1500}, "KWD", Language::english), "KWD\u00a01.500");
  EXPECT_EQ(text_of(Money{999}, "CHF", Language::german), "9,99\u00a0CHF");
}

TEST(Money, ReadsWhatItWrites) {
  for (const std::int64_t minor : {0L, 1L, -1L, 99L, 100L, -12345L, 9'000'000'000'000'000L}) {
    for (const char* currency : {"EUR", "JPY", "KWD", "CLF"}) {
      EXPECT_EQ(minor_of(parse_money(plain_text(Money{minor}, currency), currency)), minor);
    }
  }
  EXPECT_EQ(minor_of(parse_money("12.5", "EUR")), 1250);
  EXPECT_EQ(minor_of(parse_money("12", "EUR")), 1200);
}

TEST(Money, RefusesTextThatIsNotAnAmount) {
  for (const char* text : {"", "-", ".5", "5.", "1,5", "1e3", "12.345", "--1", " 1", "0x1"}) {
    EXPECT_EQ(parse_money(text, "EUR").error().code, ErrorCode::invalid_input) << text;
  }
  EXPECT_EQ(parse_money("12.5", "JPY").error().code, ErrorCode::invalid_input);
  EXPECT_EQ(parse_money("99999999999999999999", "EUR").error().code, ErrorCode::too_large);
}

TEST(Rate, IsExact) {
  EXPECT_EQ(parse_percent("8.875")->millionths, 88'750);
  EXPECT_EQ(*parse_percent("19"), Rate::percent(19));
  EXPECT_EQ(text_of(Rate{88'750}, Language::english), "8.875%");
  EXPECT_EQ(text_of(Rate{88'750}, Language::german), "8,875\u00a0%");
  EXPECT_EQ(text_of(Rate::percent(20), Language::english), "20%");
  EXPECT_FALSE(parse_percent("1.23456"));
  EXPECT_FALSE(parse_percent("1001"));
}

}  // namespace
}  // namespace film::shop
