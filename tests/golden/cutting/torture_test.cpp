#include "support/torture.h"

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "host/files.h"

namespace film::cutting {
namespace {

struct Case {
  const char* name;
  double blade_offset;
  formats::HpglCoordinates coordinates;
};

class TorturePlot : public testing::TestWithParam<Case> {};

// The files are replaced only by tools/update_golden.sh, and their difference is looked at.
TEST_P(TorturePlot, IsByteForByteTheKeptFile) {
  MachineProfile profile = test::plain_profile(GetParam().blade_offset);
  profile.coordinates = GetParam().coordinates;
  const auto plan = plan_cut(test::torture_job(), profile, {});
  ASSERT_TRUE(plan);
  const std::string bytes = emit_hpgl(*plan, profile).value();
  const std::string path =
      std::string(FILM_SOURCE_DIR "/tests/golden/cutting/torture_") + GetParam().name + ".plt";
  if (std::getenv("FILM_UPDATE_GOLDEN") != nullptr) {
    ASSERT_TRUE(host::write_file(path, bytes));
  }
  const auto kept = host::read_file(path);
  ASSERT_TRUE(kept) << kept.error().message();
  EXPECT_TRUE(bytes == *kept) << path << " differs from what is emitted now";
}

INSTANTIATE_TEST_SUITE_P(
    Forms, TorturePlot,
    testing::Values(Case{"025_absolute", 0.25, formats::HpglCoordinates::absolute},
                    Case{"090_relative", 0.9, formats::HpglCoordinates::relative},
                    Case{"090_encoded", 0.9, formats::HpglCoordinates::encoded}));

}  // namespace
}  // namespace film::cutting
