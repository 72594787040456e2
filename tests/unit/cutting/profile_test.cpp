#include "cutting/profile.h"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "cutting/machine_frame.h"

namespace film::cutting {
namespace {

MachineProfile named() {
  MachineProfile profile;
  profile.name = "test bench";
  return profile;
}

TEST(MakeProfile, RefusesAbsurdValuesNamingThem) {
  const auto where = [](auto change) {
    MachineProfile profile = named();
    change(profile);
    const auto made = make_profile(profile);
    return made ? std::string("taken") : made.error().where;
  };
  EXPECT_EQ(where([](MachineProfile&) {}), "taken");
  EXPECT_EQ(where([](MachineProfile& p) { p.name.clear(); }), "name");
  EXPECT_EQ(where([](MachineProfile& p) { p.media_width = Mm{1e9}; }), "media_width");
  EXPECT_EQ(where([](MachineProfile& p) { p.margins.low = Mm{-1}; }), "margins.low");
  EXPECT_EQ(where([](MachineProfile& p) {
              p.margins = {Mm{0}, Mm{0}, Mm{900}, Mm{900}};
            }),
            "media_width less its margins");
  EXPECT_EQ(where([](MachineProfile& p) { p.knife.blade_offset = Mm{1.3}; }), "knife.blade_offset");
  EXPECT_EQ(where([](MachineProfile& p) { p.motion.cut_speed = std::nan(""); }),
            "motion.cut_speed");
  EXPECT_EQ(where([](MachineProfile& p) {
              p.motion.acceleration = std::numeric_limits<double>::infinity();
            }),
            "motion.acceleration");
  EXPECT_EQ(where([](MachineProfile& p) { p.calibration.scale_x = 2; }), "calibration.scale_x");
  EXPECT_EQ(where([](MachineProfile& p) { p.units_per_mm = 0; }), "units_per_mm");
}

// A machine that stretches along the roll, shrinks across it and leans: the square it cuts is
// measured, and what the correction then sends comes out true.
TEST(Calibrate, MakesACrookedMachineTrue) {
  const Vec2 along{1.004, 0};       // where the machine really puts (1, 0)
  const Vec2 across{0.006, 0.997};  // and (0, 1)
  constexpr double kAsked = 500;
  const auto c = calibrate({Mm{kAsked}, Mm{kAsked * length(along)}, Mm{kAsked * length(across)},
                            Mm{kAsked * length(along + across)}});
  ASSERT_TRUE(c) << c.error().message();
  const auto cut = [&](Vec2 p) {
    return (c->scale_x * p.x + c->skew * p.y) * along + (c->scale_y * p.y) * across;
  };
  EXPECT_NEAR(length(cut({kAsked, 0})), kAsked, 1e-9);
  EXPECT_NEAR(length(cut({0, kAsked})), kAsked, 1e-9);
  EXPECT_NEAR(dot(cut({kAsked, 0}), cut({0, kAsked})), 0, 1e-6);
}

TEST(Calibrate, RefusesWhatCannotBeASquare) {
  EXPECT_FALSE(calibrate({Mm{100}, Mm{100}, Mm{100}, Mm{250}}));
  EXPECT_FALSE(calibrate({Mm{100}, Mm{0}, Mm{100}, Mm{100}}));
  EXPECT_FALSE(calibrate({Mm{100}, Mm{120}, Mm{100}, Mm{156}}));
}

TEST(MachineFrame, PutsTheOriginInEachCornerAndTurnsAsAsked) {
  const Box media{{0, 0}, {1000, 500}};
  MachineProfile profile = named();
  EXPECT_EQ(MachineFrame(profile, media).to_machine({10, 20}), (formats::HpglPoint{400, 800}));
  profile.origin = Origin::high_right;
  EXPECT_EQ(MachineFrame(profile, media).to_machine({990, 490}), (formats::HpglPoint{-400, -400}));
  profile.rotation = QuarterTurn::half;
  EXPECT_EQ(MachineFrame(profile, media).to_machine({990, 490}), (formats::HpglPoint{400, 400}));
  profile.origin = Origin::low_left;
  profile.rotation = QuarterTurn::quarter;
  EXPECT_EQ(MachineFrame(profile, media).to_machine({10, 20}), (formats::HpglPoint{-800, 400}));
  profile.mirrored = true;
  EXPECT_EQ(MachineFrame(profile, media).to_machine({10, 20}), (formats::HpglPoint{800, 400}));
}

TEST(MachineFrame, GoesBackToWhereItCameFrom) {
  const Box media{{0, 0}, {1000, 500}};
  MachineProfile profile = named();
  profile.calibration = {1.01, 0.98, 0.003};
  for (const Origin origin : {Origin::low_left, Origin::low_right, Origin::high_left,
                              Origin::high_right, Origin::centre}) {
    for (const QuarterTurn turn : {QuarterTurn::none, QuarterTurn::quarter, QuarterTurn::half,
                                   QuarterTurn::three_quarters}) {
      for (const bool mirrored : {false, true}) {
        profile.origin = origin;
        profile.rotation = turn;
        profile.mirrored = mirrored;
        const MachineFrame frame(profile, media);
        const Vec2 back = frame.to_roll(frame.to_machine({123.4, 56.7}));
        EXPECT_LE(distance(back, {123.4, 56.7}), 0.02);
      }
    }
  }
}

}  // namespace
}  // namespace film::cutting
