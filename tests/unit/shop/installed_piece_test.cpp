#include "shop/installed_piece.h"

#include <functional>

#include <gtest/gtest.h>

#include "shop/day.h"
#include "shop/inspection.h"
#include "shop/letterhead.h"
#include "shop/warranty.h"

namespace film::shop {
namespace {

InstalledPiece piece() {
  InstalledPiece piece;
  piece.event = "0f8c-11aa";
  piece.job = "J-0001";
  piece.panel = piece.piece = "hood";
  piece.film = "clear";
  piece.lot = "L 7";
  piece.source = "R-1";
  piece.who = "Ada";
  piece.at = "2031-05-04T10:00:00Z";
  return piece;
}

Inspection inspection() {
  Inspection inspection{"J-0001", {}, "Bo", "2031-05-04T12:00:00Z"};
  for (const CheckItem& item : inspection_list()) {
    inspection.findings.push_back({std::string(item.id), true, "", ""});
  }
  return inspection;
}

TEST(InstalledPiece, EveryNameIsNeeded) {
  ASSERT_TRUE(check(piece()));
  const std::vector<std::function<void(InstalledPiece&)>> kBreak{
      [](InstalledPiece& p) { p.event = "short"; },
      [](InstalledPiece& p) { p.panel.clear(); },
      [](InstalledPiece& p) { p.lot.clear(); },
      [](InstalledPiece& p) { p.source.clear(); },
      [](InstalledPiece& p) { p.who.clear(); },
      [](InstalledPiece& p) { p.lot = std::string(401, 'x'); },
      [](InstalledPiece& p) { p.at = "2031-02-29T10:00:00Z"; },
      [](InstalledPiece& p) { p.at = "2031-05-04 10:00:00"; },
      [](InstalledPiece& p) { p.replaces = 3; },
      [](InstalledPiece& p) { p.reason = "torn at the edge"; },
  };
  for (const auto& change : kBreak) {
    InstalledPiece broken = piece();
    change(broken);
    EXPECT_EQ(check(broken).error().code, ErrorCode::invalid_input);
  }
  InstalledPiece second = piece();
  second.replaces = 1;
  second.reason = "torn at the edge";
  EXPECT_TRUE(check(second));
}

// RFC 3339, 5.6; the Gregorian calendar.
TEST(Day, MomentsAreReadStrictly) {
  EXPECT_TRUE(is_moment("2031-05-04T10:00:00Z"));
  EXPECT_TRUE(is_moment("2028-02-29T23:59:60Z"));
  for (const char* text : {"2031-05-04T24:00:00Z", "2031-05-04T10:60:00Z", "2031-05-04T10:00:00",
                           "2031-05-04T10:00:00z", "2031-05-04T1a:00:00Z", "2031-05-04", ""}) {
    EXPECT_FALSE(is_moment(text)) << text;
  }
}

// By hand from the calendar.
TEST(Day, MonthsAreAddedToTheSameDayOrTheLast) {
  EXPECT_EQ(months_after("2031-05-31", 1), "2031-06-30");
  EXPECT_EQ(months_after("2028-02-29", 12), "2029-02-28");
  EXPECT_EQ(months_after("2028-02-29", 48), "2032-02-29");
  EXPECT_EQ(months_after("2031-12-15", 120), "2041-12-15");
  EXPECT_EQ(months_after("9999-12-01", 1), std::nullopt);
}

TEST(Inspection, EveryItemHasOneFindingAndAFaultItsNote) {
  ASSERT_TRUE(check(inspection()));
  EXPECT_TRUE(passed(inspection()));
  Inspection less = inspection();
  less.findings.pop_back();
  EXPECT_FALSE(check(less));
  Inspection twice = inspection();
  twice.findings.push_back(twice.findings.front());
  EXPECT_FALSE(check(twice));
  Inspection other = inspection();
  other.findings.push_back({"smell", true, "", ""});
  EXPECT_FALSE(check(other));
  Inspection fault = inspection();
  fault.findings[2].good = false;
  EXPECT_FALSE(check(fault));
  fault.findings[2].note = "a hair under the hood's film";
  EXPECT_TRUE(check(fault));
  EXPECT_FALSE(passed(fault));
}

TEST(Warranty, TermsClaimsAndRulingsAreChecked) {
  EXPECT_TRUE(check(FilmTerm{"clear", "Clear gloss", 120}));
  EXPECT_FALSE(check(FilmTerm{"clear", "Clear gloss", -1}));
  EXPECT_FALSE(check(FilmTerm{"clear", "Clear gloss", 601}));
  Claim claim;
  claim.job = "J-0001";
  claim.piece = 4;
  claim.what = "edge lifts";
  claim.reported_by = "A. Nobody";
  claim.who = "desk";
  EXPECT_TRUE(check(claim));
  claim.what = "bad";
  EXPECT_FALSE(check(claim));
  EXPECT_FALSE(check(ClaimRuling{"K-0001", Ruling::warranty, "", false, "lead", ""}));
  EXPECT_TRUE(
      check(ClaimRuling{"K-0001", Ruling::declined, "washed with a brush", false, "lead", ""}));
}

TEST(Letterhead, AnAddressIsAWebAddress) {
  Letterhead head;
  EXPECT_TRUE(check(head));
  head.address = "https://film.example";
  EXPECT_TRUE(check(head));
  for (const char* text : {"film.example", "javascript:alert(1)", "https://a b", "http://x\"y"}) {
    head.address = text;
    EXPECT_FALSE(check(head)) << text;
  }
  head.address.clear();
  head.lines.resize(7);
  EXPECT_FALSE(check(head));
}

}  // namespace
}  // namespace film::shop
