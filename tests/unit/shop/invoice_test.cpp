#include "shop/invoice.h"

#include <gtest/gtest.h>

namespace film::shop {
namespace {

Invoice invoice() {
  Invoice invoice;
  invoice.job = "J-0001";
  invoice.bill_to = "A. Nobody\nNowhere Lane 1";
  invoice.currency = "EUR";
  invoice.lines = {{"Full front", Money{100'005}, Rate::percent(19)},
                   {"Roof", Money{50'000}, Rate::percent(19)},
                   {"Book of care", Money{1'999}, Rate::percent(7)},
                   {"Discount", Money{-5'000}, Rate::percent(19)}};
  invoice.due = "2031-06-04";
  invoice.issued_by = "desk";
  return invoice;
}

// By hand: 1000.05 + 500.00 - 50.00 = 1450.05; 19 % of it = 275.5095, rounded 275.51. 7 % of 19.99
// = 1.3993, rounded 1.40. Net 1470.04, total 1746.95.
TEST(Invoice, TaxIsTakenPerRateOnTheSumOfItsLines) {
  const auto totals = totals_of(invoice());
  ASSERT_TRUE(totals);
  EXPECT_EQ(totals->net, Money{147'004});
  EXPECT_EQ(totals->taxes, (std::vector<TaxLine>{{Rate::percent(19), Money{145'005}, Money{27'551}},
                                                 {Rate::percent(7), Money{1'999}, Money{140}}}));
  EXPECT_EQ(totals->total, Money{174'695});
}

TEST(Invoice, FieldsAreChecked) {
  EXPECT_TRUE(check(invoice()));
  Invoice none = invoice();
  none.lines.clear();
  EXPECT_FALSE(check(none));
  Invoice day = invoice();
  day.due = "2031-02-30";
  EXPECT_FALSE(check(day));
  Invoice rate = invoice();
  rate.lines[0].tax = Rate::percent(101);
  EXPECT_FALSE(check(rate));
  Invoice huge = invoice();
  huge.lines[0].net = huge.lines[1].net = kMostMoney;
  EXPECT_EQ(check(huge).error().code, ErrorCode::too_large);
}

TEST(Payment, NothingLikeACardNumberIsTakenDown) {
  Payment payment{"J-0001", PaymentKind::deposit, Money{5'000}, "bank transfer", "", "desk", ""};
  EXPECT_TRUE(check(payment));
  payment.note = "invoice I-0001 of 2031-05-04";
  EXPECT_TRUE(check(payment));
  payment.note = "4000 0000-0000 0002";
  EXPECT_FALSE(check(payment));
  payment.note = "";
  payment.amount = Money{0};
  EXPECT_FALSE(check(payment));
}

TEST(Payment, RefundsAreTakenOff) {
  const Payment deposit{"J-0001", PaymentKind::deposit, Money{5'000}, "cash", "", "desk", ""};
  Payment refund = deposit;
  refund.kind = PaymentKind::refund;
  refund.amount = Money{1'200};
  EXPECT_EQ(paid({deposit, refund, deposit}).value(), Money{8'800});
  EXPECT_EQ(paid({}).value(), Money{0});
}

}  // namespace
}  // namespace film::shop
