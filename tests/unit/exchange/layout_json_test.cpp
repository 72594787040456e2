#include "exchange/layout_json.h"

#include <gtest/gtest.h>

#include "host/files.h"
#include "layout/solve.h"

namespace film::exchange {
namespace {

constexpr const char* kOwn = R"({"name": "set", "units": "mm",
  "strip": {"width": 100, "gap": 3, "margins": {"low": 5}, "maximum_length": 500,
            "defects": [[[10, 10], [20, 10], [15, 30]]]},
  "pieces": [
    {"id": "hood", "quantity": 2, "turns_deg": [0, 180], "zone": "front",
     "outline": [[0, 0], [40, 0], [40, 30], [0, 30]], "holes": [[[5, 5], [9, 5], [9, 9]]]},
    {"id": 7, "outline": [[0, 0], [0, 10], [10, 0], [0, 0]]}]})";

TEST(LayoutJson, OurOwnFormIsRead) {
  const auto problem = read_layout_problem(kOwn);
  ASSERT_TRUE(problem) << problem.error().message();
  EXPECT_EQ(problem->units, "mm");
  EXPECT_EQ(problem->strip.gap, 3);
  EXPECT_EQ(problem->strip.margins.low, 5);
  EXPECT_EQ(problem->strip.maximum_length, 500);
  EXPECT_EQ(problem->strip.defects.size(), 1u);
  ASSERT_EQ(problem->items.size(), 2u);
  EXPECT_EQ(problem->items[0].quantity, 2);
  EXPECT_EQ(problem->items[0].group, "front");
  EXPECT_EQ(problem->items[0].shape.holes.size(), 1u);
  EXPECT_EQ(problem->items[1].id, "7");
  EXPECT_TRUE(problem->items[1].turns.empty());  // any angle
  EXPECT_EQ(area(problem->items[1].shape), 50);
}

TEST(LayoutJson, AProblemReadsBackAsWritten) {
  const auto problem = read_layout_problem(kOwn);
  ASSERT_TRUE(problem);
  const auto again = read_layout_problem(write_layout_problem(*problem));
  ASSERT_TRUE(again) << again.error().message();
  EXPECT_EQ(*again, *problem);
}

TEST(LayoutJson, EveryBenchmarkFileIsReadWithItsPublishedArea) {
  // Sizes: shared/data/nesting/reference_runs.csv (pieces, strip width, total piece area).
  struct Case {
    const char* name;
    std::size_t pieces;
    double width, area;
  };
  for (const Case& c :
       {Case{"albano", 24, 4900, 42656785}, Case{"swim", 48, 5752, 25445023.791},
        Case{"fu", 12, 38.0038, 1083}, Case{"gardeyn3", 100, 20000, 1071198278.5},
        Case{"gardeyn5", 80, 2000, 6098577.666}, Case{"gardeyn9", 47, 44, 2510.871}}) {
    SCOPED_TRACE(c.name);
    const auto bytes = host::read_file(std::string(FILM_SOURCE_DIR) + "/../shared/data/nesting/" +
                                       c.name + ".json");
    ASSERT_TRUE(bytes);
    const auto problem = read_layout_problem(*bytes);
    ASSERT_TRUE(problem) << problem.error().message();
    EXPECT_EQ(layout::copies_in(*problem), c.pieces);
    EXPECT_EQ(problem->strip.width, c.width);
    EXPECT_NEAR(layout::area_of(*problem), c.area, 1e-6 * c.area);
  }
}

TEST(LayoutJson, ASheetReadsBackToTheSameBits) {
  const auto problem = read_layout_problem(kOwn);
  ASSERT_TRUE(problem);
  const auto solution = layout::solve(*problem, {.iteration_limit = 20}, {});
  ASSERT_TRUE(solution);
  const LayoutSheet sheet = make_sheet(*problem, *solution);
  EXPECT_EQ(sheet.pieces.size(), 3u);
  EXPECT_EQ(sheet.pieces[0].zone, "front");
  const auto again = read_layout_sheet(write_layout_sheet(sheet));
  ASSERT_TRUE(again) << again.error().message();
  EXPECT_EQ(*again, sheet);
}

TEST(LayoutJson, SpikesAndRepeatedPointsGoWithoutChangingTheArea) {
  const auto problem = read_layout_problem(R"({"strip": {"width": 10}, "pieces": [{"id": "a",
    "outline": [[0,0],[4,0],[4,0],[4,2],[6,2],[4,2],[4,4],[0,4],[0,0]]}]})");
  ASSERT_TRUE(problem) << problem.error().message();
  EXPECT_EQ(area(problem->items[0].shape), 16);
  EXPECT_EQ(bounding_box(problem->items[0].shape).high.x, 4);
}

TEST(LayoutJson, FaultsNameThePieceAndTheField) {
  const auto where = [](const char* text) {
    const auto problem = read_layout_problem(text);
    return problem ? std::string("read") : problem.error().message();
  };
  EXPECT_NE(where("{").find("not JSON"), std::string::npos);
  EXPECT_NE(where("[]").find("one object"), std::string::npos);
  EXPECT_NE(where(R"({"items": []})").find("strip_height"), std::string::npos);
  EXPECT_NE(where(R"({"strip": {"width": -1}, "pieces": []})").find("width"), std::string::npos);
  EXPECT_NE(where(R"({"strip": {"width": 9}, "pieces": [{"id": "x", "outline": [[0,0],[1]]}]})")
                .find("piece x point 1"),
            std::string::npos);
  EXPECT_NE(where(R"({"strip": {"width": 9}, "pieces": [{"id": "x", "quantity": 1.5,
                      "outline": [[0,0],[1,0],[0,1]]}]})")
                .find("quantity"),
            std::string::npos);
  EXPECT_NE(where(R"({"strip": {"width": 9}, "pieces": [{"id": "x",
                      "outline": [[0,0],[4,4],[4,0],[0,2]]}]})")
                .find("crosses"),
            std::string::npos);
}

}  // namespace
}  // namespace film::exchange
