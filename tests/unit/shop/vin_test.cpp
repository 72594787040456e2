#include "shop/vin.h"

#include <gtest/gtest.h>

#include "shop/customer.h"

namespace film::shop {
namespace {

// 49 CFR 565.15(c)(4), its worked example: the products sum to 411 = 37 x 11 + 4 (from memory,
// summed again by hand).
constexpr const char* kExample = "1G4AH59H45G118341";

TEST(Vin, TheWorkedExampleOfTheRuleHasItsCheckDigit) {
  EXPECT_EQ(vin_check_digit(kExample), '4');
  EXPECT_TRUE(check_vin_digit(kExample));
  EXPECT_TRUE(is_north_american(kExample));
}

// By hand: seventeen ones sum to the weights, 89 = 8 x 11 + 1.
TEST(Vin, OnesCheckToOne) { EXPECT_EQ(vin_check_digit("11111111111111111"), '1'); }

// By hand: value 1 at position 11 (weight 8) and 2 at position 17 (weight 2 -> 4): 8 + 2 = 10.
TEST(Vin, ARemainderOfTenIsX) {
  EXPECT_EQ(vin_check_digit("00000000X00000001"), '2');
  EXPECT_EQ(vin_check_digit("00000000X01000001"), 'X');
}

TEST(Vin, AWrongDigitIsExplainedWithTheOneExpected) {
  const auto wrong = check_vin_digit("1G4AH59H55G118341");
  ASSERT_FALSE(wrong);
  EXPECT_NE(wrong.error().what.find("'5'"), std::string::npos);
  EXPECT_NE(wrong.error().what.find("'4'"), std::string::npos);
}

TEST(Vin, WritingIsForgivenWrongCharactersAreNot) {
  EXPECT_EQ(read_vin("1g4ah59h-45g1 18341").value(), kExample);
  EXPECT_NE(read_vin("1G4AH59H45G11834I").error().what.find("position 17"), std::string::npos);
  EXPECT_NE(read_vin("1G4AH59H45G11834").error().what.find("16"), std::string::npos);
  for (const char* text : {"", "1G4AH59H45G1183411", "O0000000000000000", "1G4AH59H45G11834\xC3"}) {
    EXPECT_FALSE(read_vin(text)) << text;
  }
}

TEST(Vin, EverySingleWrongCharacterThatChangesTheSumIsNoticed) {
  const std::string sound = kExample;
  for (std::size_t place = 0; place < sound.size(); ++place) {
    if (place == 8) continue;
    for (const char other : std::string("0123456789")) {
      std::string changed = sound;
      changed[place] = other;
      const bool digit = sound[place] >= '0' && sound[place] <= '9';
      if (digit && changed != sound) {
        EXPECT_FALSE(check_vin_digit(changed)) << changed;
      }
    }
  }
}

TEST(CustomerVehicle, AVinThatDoesNotFitIsKeptOnlyWithAReason) {
  CustomerVehicle vehicle;
  vehicle.vin = "w1g4ah59h55g11834";
  vehicle.plate = "fw-20 7";
  const auto refused = checked(vehicle);
  ASSERT_FALSE(refused);
  EXPECT_NE(refused.error().remedy.find("North America"), std::string::npos);
  vehicle.vin_reason = "Built for Europe";
  const auto kept = checked(vehicle);
  ASSERT_TRUE(kept);
  EXPECT_EQ(kept->plate, "FW-20 7");
  EXPECT_EQ(kept->vin_reason, "Built for Europe");
  vehicle.vin = kExample;
  EXPECT_EQ(checked(vehicle)->vin_reason, "");  // none is needed
}

TEST(Customer, EachFieldIsChecked) {
  Customer customer;
  customer.name = "Ottoline Brambleby";
  EXPECT_TRUE(check(customer));
  const auto refused = [&customer](auto change) {
    Customer changed = customer;
    change(changed);
    const auto sound = check(changed);
    return sound ? std::string() : sound.error().where;
  };
  EXPECT_EQ(refused([](Customer& c) { c.name = "  "; }), "name");
  EXPECT_EQ(refused([](Customer& c) { c.phone = "call me"; }), "phone");
  EXPECT_EQ(refused([](Customer& c) { c.email = "nobody"; }), "email");
  EXPECT_EQ(refused([](Customer& c) { c.email = "a@b@c"; }), "email");
  EXPECT_EQ(refused([](Customer& c) { c.address = std::string(500, 'x'); }), "address");
  EXPECT_EQ(refused([](Customer& c) { c.language = "xx"; }), "language");
}

}  // namespace
}  // namespace film::shop
