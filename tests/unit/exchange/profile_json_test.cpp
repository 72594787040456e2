#include "exchange/profile_json.h"

#include <gtest/gtest.h>

#include "host/files.h"

namespace film::exchange {
namespace {

TEST(ReadProfile, ReadsTheExampleOfTheBook) {
  const auto bytes = host::read_file(FILM_SOURCE_DIR "/docs/examples/shop-machine.json");
  ASSERT_TRUE(bytes);
  const auto profile = read_profile(*bytes);
  ASSERT_TRUE(profile) << profile.error().message();
  EXPECT_EQ(profile->media_width, Mm{1524});
  EXPECT_EQ(profile->knife.force, 4);
}

TEST(ReadProfile, ReadsBackWhatWasWritten) {
  cutting::MachineProfile profile;
  profile.name = "Long table";
  profile.origin = cutting::Origin::high_right;
  profile.rotation = cutting::QuarterTurn::three_quarters;
  profile.mirrored = true;
  profile.knife.kind = cutting::Knife::tangential;
  profile.knife.force = 7;
  profile.calibration = {1.001, 0.999, 0.002};
  profile.coordinates = formats::HpglCoordinates::encoded;
  profile.prefix = "\x1b.(:";
  const auto again = read_profile(write_profile(profile));
  ASSERT_TRUE(again) << again.error().message();
  // Angles pass through degrees.
  EXPECT_NEAR(again->knife.corner_threshold.radians, profile.knife.corner_threshold.radians, 1e-12);
  profile.knife.corner_threshold = again->knife.corner_threshold;
  EXPECT_EQ(*again, profile);
}

TEST(ReadProfile, NamesWhatIsWrong) {
  const auto what = [](std::string_view bytes) { return read_profile(bytes).error().what; };
  EXPECT_EQ(what("{"), "not JSON");
  EXPECT_EQ(what("[]"), "the document is not an object");
  EXPECT_EQ(what(R"({"name":"a","knife":{"blade_ofset_mm":1}})"),
            "knife.blade_ofset_mm is not a key of a machine profile");
  EXPECT_EQ(what(R"({"name":"a","pen":"one"})"), "pen is not a whole number");
  EXPECT_EQ(what(R"({"name":"a","origin":"top"})"),
            "origin must be one of: low_left, low_right, high_left, high_right, centre");
  EXPECT_EQ(what(R"({"name":"a","rotation_deg":45})"), "rotation_deg must be 0, 90, 180 or 270");
  EXPECT_EQ(what(R"({"name":"a","knife":{"blade_offset_mm":3}})"),
            "knife.blade_offset is 3 mm, but must be from 0 to 1.2");
  EXPECT_EQ(what(R"({"media_width_mm":1524})"), "the machine profile has no name");
}

}  // namespace
}  // namespace film::exchange
