#include "hours/model.h"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "synthetic_shop.h"

namespace film::hours {
namespace {

using synthetic::Scatter;
using synthetic::Shop;

double minutes_of(const Model& model, const Amounts& piece, std::string_view installer = {}) {
  return model.estimate({&piece, 1}, installer).minutes.mean;
}

Amounts one_piece(double area) {
  Amounts amounts{};
  amounts[static_cast<std::size_t>(Term::piece)] = 1;
  amounts[static_cast<std::size_t>(Term::area)] = area;
  return amounts;
}

TEST(HoursModel, StartsFromWhatTheShopBelieves) {
  const Belief belief;
  const Model model(belief);
  EXPECT_NEAR(minutes_of(model, one_piece(2)), belief.minutes[0] + 2 * belief.minutes[1], 1e-9);
}

// The share within the interval is a mean of 4000 trials in 800 shops; its own standard deviation
// is below 0.7 %.
TEST(HoursModel, IntervalsHoldWhatTheyPromise) {
  for (const int records : {0, 20, 200}) {
    for (const int pieces : {1, 12}) {
      const double share = synthetic::coverage(Scatter::even, records, pieces, 800, 1000);
      EXPECT_GT(share, 0.88) << records << " records, " << pieces << " pieces";
      EXPECT_LT(share, 0.92) << records << " records, " << pieces << " pieces";
    }
  }
}

TEST(HoursModel, IntervalsHoldInShopsThatScatterOtherwise) {
  const double share = synthetic::coverage(Scatter::skewed, 200, 12, 800, 5000);
  EXPECT_GT(share, 0.88);
  EXPECT_LT(share, 0.92);
}

TEST(HoursModel, LearnsHowInstallersDiffer) {
  Shop shop(3, Scatter::even);
  Model model{Belief{}};
  for (int i = 0; i < 2000; ++i) model.learn(shop.record());
  const auto paces = model.paces();
  ASSERT_EQ(paces.size(), 4u);
  for (std::size_t a = 0; a < 4; ++a) {
    for (std::size_t b = 0; b < a; ++b) {
      // Differences between people do not depend on what is common to them.
      const Pace& one = paces.at(Shop::name(a));
      const Pace& other = paces.at(Shop::name(b));
      EXPECT_NEAR(one.factor - other.factor, shop.pace(a) - shop.pace(b), 0.05);
      EXPECT_GT(one.records, 300u);
    }
  }
}

TEST(HoursModel, ComesCloserToTheTruthWithRecords) {
  double before = 0;
  double after = 0;
  for (std::uint64_t seed = 0; seed < 40; ++seed) {
    Shop shop(seed, Scatter::even);
    Model model{Belief{}};
    const Amounts piece = shop.piece();
    double truth = shop.pace(0) * minutes_of(model, piece);
    for (std::size_t k = 0; k < kTerms; ++k) truth += shop.truth()[k] * piece[k];
    before += std::abs(minutes_of(model, piece, Shop::name(0)) - truth);
    for (int i = 0; i < 400; ++i) model.learn(shop.record());
    after += std::abs(minutes_of(model, piece, Shop::name(0)) - truth);
  }
  EXPECT_LT(after, 0.3 * before);
}

TEST(HoursModel, SomebodyNewIsMoreUncertainThanSomebodyKnown) {
  Shop shop(5, Scatter::even);
  Model model{Belief{}};
  for (int i = 0; i < 200; ++i) model.learn(shop.record());
  const std::vector<Amounts> work(10, one_piece(1));
  EXPECT_GT(model.estimate(work, "somebody new").minutes.scale,
            model.estimate(work, Shop::name(1)).minutes.scale);
  EXPECT_EQ(model.estimate(work, "somebody new").minutes.scale,
            model.estimate(work, "").minutes.scale);
}

TEST(HoursModel, LeavesOutTimesThatAreNone) {
  Model model{Belief{}};
  for (const double minutes : {0.0, -5.0, std::numeric_limits<double>::quiet_NaN(),
                               std::numeric_limits<double>::infinity()}) {
    model.learn({"a", one_piece(1), minutes});
  }
  EXPECT_EQ(model.records(), 0u);
}

TEST(HoursModel, AnIntervalNeverStartsBelowZero) {
  Belief doubtful;
  doubtful.doubt = 2;
  doubtful.noise = 2;
  const Amounts piece = one_piece(1);
  EXPECT_EQ(Model(doubtful).estimate({&piece, 1}, "").interval(0.9).low, 0);
}

TEST(HoursBelief, NamesTheFieldThatIsOutOfRange) {
  Belief belief;
  EXPECT_TRUE(check(belief));
  belief.minutes[static_cast<std::size_t>(Term::tuck)] = -1;
  EXPECT_EQ(check(belief).error().where, "hours tuck");
  belief = {};
  belief.minutes[0] = 0;
  EXPECT_EQ(check(belief).error().where, "hours piece");
  belief = {};
  belief.pace = 0;
  EXPECT_EQ(check(belief).error().where, "hours pace");
}

TEST(HoursTerm, NamesAreReadBack) {
  for (std::size_t k = 0; k < kTerms; ++k) {
    const Term term = static_cast<Term>(k);
    EXPECT_EQ(term_of(name_of(term)), term);
  }
  EXPECT_FALSE(term_of("wash"));
}

}  // namespace
}  // namespace film::hours
