#include "exchange/glass_json.h"

#include <gtest/gtest.h>

namespace film::exchange {
namespace {

TEST(GlassJson, ReadsLayersFromOutsideToInside) {
  const auto request = read_glass_request(R"({
    "layers": [
      {"kind": "glass", "id": "outer", "spectrum": [[300, 0.1, 0.05], [2500, 0.8, 0.07, 0.08]]},
      {"kind": "gap", "resistance": 0.2},
      {"kind": "glass", "bands": {"visible": {"T": 0.8, "Rf": 0.08}}},
      {"kind": "film", "bands": {"visible": {"T": 0.4, "Rf": 0.1, "Rb": 0.2}}, "index": 1.64,
       "measured_on": {"bands": {"visible": {"T": 0.9, "Rf": 0.08}}}}],
    "bands": ["visible", {"name": "red", "weights": [[600, 1], [700, 2]]}],
    "heat": ["stationary", {"moving_m_per_s": 28}, {"name": "mine", "he": 20, "hi": 7}]})");
  ASSERT_TRUE(request) << request.error().message();
  ASSERT_EQ(request->stack.sheets.size(), 3U);
  EXPECT_EQ(request->stack.joints[0].kind, glazing::Joint::Kind::air);
  EXPECT_EQ(request->stack.joints[0].resistance, 0.2);
  EXPECT_EQ(request->stack.joints[1].kind, glazing::Joint::Kind::bonded);
  const auto& spectrum = std::get<glazing::SpectralOptics>(request->stack.sheets[0].optics);
  EXPECT_EQ(spectrum.values[0].reflect_back, 0.05);
  EXPECT_EQ(spectrum.values[1].reflect_back, 0.08);
  EXPECT_EQ(request->stack.sheets[2].front_index, 1.64);
  EXPECT_TRUE(request->stack.sheets[2].measured_on);
  ASSERT_EQ(request->bands.size(), 2U);
  EXPECT_EQ(request->bands[1].name, "red");
  ASSERT_EQ(request->air.size(), 3U);
  EXPECT_EQ(request->air[2].outside, 20);
}

TEST(GlassJson, ADensityBecomesWeightsThatHoldTheirStep) {
  const auto request = read_glass_request(R"({
    "layers": [{"kind": "glass", "bands": {"x": {"T": 0.8, "Rf": 0.08}}}],
    "bands": [{"name": "x", "density": [[400, 1], [410, 1], [450, 1]]}]})");
  ASSERT_TRUE(request) << request.error().message();
  EXPECT_EQ(request->bands[0].weights, (std::vector<double>{5, 25, 20}));
}

TEST(GlassJson, NamesTheLayerThatIsWrong) {
  const auto where = [](const char* layer) {
    const auto request = read_glass_request(std::string(R"({"layers": [)") + layer + "]}");
    return request ? std::string("read") : request.error().where;
  };
  EXPECT_EQ(where(R"({"kind": "glass", "id": "front", "bands": {"visible": {"T": 1.2, "Rf": 0}}})"),
            "layer front band visible");
  EXPECT_EQ(where(R"({"kind": "glass", "id": "front"})"), "layer front");
  EXPECT_EQ(where(R"({"kind": "wood"})"), "layer 1");
  EXPECT_EQ(where(R"({"kind": "gap"})"), "layer 1");
  EXPECT_EQ(where(R"({"kind": "film", "id": "f", "spectrum": [[400, 1, 0], [390, 1, 0]]})"),
            "layer f spectrum");
  EXPECT_FALSE(read_glass_request("[]"));
  EXPECT_FALSE(read_glass_request("{"));
  EXPECT_FALSE(read_glass_request(R"({"layers": []})"));
}

}  // namespace
}  // namespace film::exchange
