#include "glazing/limits.h"

#include <gtest/gtest.h>

namespace film::glazing {
namespace {

WindowLimit row(Confidence confidence, double least) {
  WindowLimit limit;
  limit.place = "XX";
  limit.position = Position::front_side;
  limit.least = least;
  limit.text = "A law";
  limit.source = "its gazette";
  limit.date_read = "2026-11-25";
  limit.confidence = confidence;
  return limit;
}

Verdict verdict(const WindowLimit& limit, double low, double high,
                std::optional<double> reflectance = 0.08) {
  return judge({limit}, "XX", Position::front_side, {{(low + high) / 2, low, high}, reflectance})
      .verdict;
}

TEST(Limits, ARowThatWasReadDecidesWhenTheWholeRangeIsOnOneSide) {
  const WindowLimit limit = row(Confidence::read, 0.5);
  EXPECT_EQ(verdict(limit, 0.52, 0.56), Verdict::allowed);
  EXPECT_EQ(verdict(limit, 0.40, 0.45), Verdict::not_allowed);
  EXPECT_EQ(verdict(limit, 0.48, 0.53), Verdict::unknown);
}

TEST(Limits, ATolerancePutsOffTheNoButNeverMakesAYes) {
  WindowLimit limit = row(Confidence::read, 0.5);
  limit.tolerance = 0.03;
  EXPECT_EQ(verdict(limit, 0.48, 0.49), Verdict::unknown);
  EXPECT_EQ(verdict(limit, 0.44, 0.46), Verdict::not_allowed);
}

TEST(Limits, WhatWasNotReadIsNeverAYes) {
  EXPECT_EQ(verdict(row(Confidence::secondary, 0.5), 0.6, 0.7), Verdict::unknown);
  EXPECT_EQ(verdict(row(Confidence::secondary, 0.5), 0.3, 0.4), Verdict::not_allowed);
  EXPECT_EQ(verdict(row(Confidence::memory, 0.5), 0.6, 0.7), Verdict::unknown);
  EXPECT_EQ(verdict(row(Confidence::memory, 0.5), 0.3, 0.4), Verdict::unknown);
  EXPECT_EQ(judge({}, "XX", Position::rear, {{0.9, 0.9, 0.9}, 0.08}).verdict, Verdict::unknown);
}

TEST(Limits, AMirrorIsJudgedByItsReflectance) {
  WindowLimit limit = row(Confidence::read, 0.3);
  limit.most_reflectance = 0.2;
  EXPECT_EQ(verdict(limit, 0.5, 0.6, 0.1), Verdict::allowed);
  EXPECT_EQ(verdict(limit, 0.5, 0.6, 0.3), Verdict::not_allowed);
  EXPECT_EQ(verdict(limit, 0.5, 0.6, std::nullopt), Verdict::unknown);
}

TEST(Limits, TheStrictestOfSeveralRowsCounts) {
  const WindowLimit mild = row(Confidence::read, 0.3);
  const WindowLimit hard = row(Confidence::read, 0.7);
  EXPECT_EQ(judge({mild, hard}, "XX", Position::front_side, {{0.5, 0.49, 0.51}, 0.08}).verdict,
            Verdict::not_allowed);
}

TEST(Limits, WordsThatNoMeterReadsStayUnknown) {
  WindowLimit limit = row(Confidence::read, 0.5);
  limit.least.reset();
  limit.kind = LimitKind::not_a_figure;
  EXPECT_EQ(verdict(limit, 0.8, 0.9), Verdict::unknown);
  limit.kind = LimitKind::no_film;
  EXPECT_EQ(verdict(limit, 0.8, 0.9), Verdict::not_allowed);
  limit.kind = LimitKind::unlimited;
  EXPECT_EQ(verdict(limit, 0.05, 0.06), Verdict::allowed);
  limit = row(Confidence::read, 0.5);
  limit.basis = LimitBasis::film;
  EXPECT_EQ(verdict(limit, 0.8, 0.9), Verdict::unknown);
}

TEST(Limits, ABrokenRowNamesItsPlaceWindowAndField) {
  WindowLimit limit = row(Confidence::read, 50);
  EXPECT_EQ(check(limit).error().where, "XX, front side window, least");
  limit = row(Confidence::read, 0.5);
  limit.kind = LimitKind::unlimited;
  EXPECT_FALSE(check(limit));
  limit = row(Confidence::read, 0.5);
  limit.date_read.clear();
  EXPECT_FALSE(check(limit));
  EXPECT_TRUE(check(row(Confidence::memory, 0.5)));
}

TEST(Limits, ItSaysWhoDecides) {
  EXPECT_NE(no_advice().find("no legal advice"), std::string_view::npos);
  EXPECT_NE(no_advice().find("Local code prevails"), std::string_view::npos);
  EXPECT_NE(no_advice().find("decides"), std::string_view::npos);
}

}  // namespace
}  // namespace film::glazing
