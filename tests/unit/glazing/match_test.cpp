#include "glazing/match.h"

#include <algorithm>

#include <gtest/gtest.h>

namespace film::glazing {
namespace {

Sheet pane(const std::string& id, double internal) {
  Sheet sheet;
  sheet.id = id;
  sheet.optics = BandedOptics{{{"visible", clear_sheet(1.52, internal)}}};
  return sheet;
}

TEST(Match, FindsTheFilmThatMakesThePaneBehind) {
  // Front glass 0.85 inside; with the film of 0.3 it is exactly the glass of 0.255 behind.
  const MatchTask task{pane("front", 0.85),
                       pane("rear", 0.85 * 0.3),
                       {pane("light", 0.6), pane("right", 0.3), pane("dark", 0.1)}};
  const auto answer = match(task);
  ASSERT_TRUE(answer);
  const Match& best = answer->matches.front();
  EXPECT_EQ(best.films, std::vector<std::string>{"right"});
  EXPECT_NEAR(best.apart.value, 0, 1e-12);
  EXPECT_NEAR(best.through_difference, 0, 1e-9);
  EXPECT_NEAR(best.outside_difference, 0, 1e-9);
  EXPECT_TRUE(best.within_doubt);
  EXPECT_EQ(answer->matches.size(), 1u + 3u + 9u);
}

TEST(Match, TwoFilmsCanDoWhatNoneDoesAlone) {
  const MatchTask task{pane("front", 0.9), pane("rear", 0.9 * 0.25), {pane("half", 0.5)}};
  const auto answer = match(task);
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->matches.front().films, (std::vector<std::string>{"half", "half"}));
  MatchTask one = task;
  one.most_films = 1;
  EXPECT_EQ(match(one)->matches.front().films.size(), 1u);
}

TEST(Match, TheRangeIsWhatGlassAndMeterLeave) {
  MatchTask task{pane("front", 0.9), pane("rear", 0.3), {pane("film", 0.4)}};
  task.glass_tolerance = 0;
  task.meter_error = 0.03;
  const auto answer = match(task);
  ASSERT_TRUE(answer);
  EXPECT_NEAR(answer->target_visible.high - answer->target_visible.value, 0.03, 1e-12);
  const Match& m = answer->matches.front();
  EXPECT_NEAR(m.apart.high - m.apart.value, 0.03 * std::sqrt(2.0), 1e-12);
}

TEST(Match, HueIsToldApartFromLightness) {
  const auto tinted = [](const std::string& id, double blue, double red) {
    SpectralOptics spectrum;
    for (int nm = 380; nm <= 780; nm += 10) {
      spectrum.wavelengths.push_back(Nm{static_cast<double>(nm)});
      spectrum.values.push_back(symmetric(nm < 570 ? blue : red, 0.05));
    }
    Sheet sheet;
    sheet.id = id;
    sheet.optics = spectrum;
    return sheet;
  };
  MatchTask task{tinted("front", 0.8, 0.8),
                 tinted("rear", 0.3, 0.3),
                 {tinted("grey", 0.4, 0.4), tinted("bronze", 0.3, 0.45)}};
  const auto answer = match(task);
  ASSERT_TRUE(answer);
  const auto find = [&](const std::string& film) {
    return *std::find_if(answer->matches.begin(), answer->matches.end(),
                         [&](const Match& m) { return m.films == std::vector<std::string>{film}; });
  };
  EXPECT_LT(find("grey").colour_difference, 0.5);
  EXPECT_GT(find("bronze").colour_difference, 5);
}

TEST(Match, RefusesWhatMakesNoSense) {
  const MatchTask none{pane("front", 0.9), pane("rear", 0.3), {}};
  EXPECT_FALSE(match(none));
  MatchTask three{pane("front", 0.9), pane("rear", 0.3), {pane("a", 0.5)}};
  three.most_films = 3;
  EXPECT_FALSE(match(three));
}

}  // namespace
}  // namespace film::glazing
