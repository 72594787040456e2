// What a job may not do before someone signs, what it measures, and what the shop's table says.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <memory>

#include <gtest/gtest.h>

#include "demo/shop.h"
#include "demo/vehicle.h"
#include "store/store.h"
#include "workbench/browse.h"
#include "workbench/job_glass.h"
#include "workbench/lay_out_job.h"
#include "workbench/limits.h"
#include "workbench/match_glass.h"
#include "workbench/move_job.h"
#include "workbench/open_job.h"
#include "workbench/papers.h"

namespace film::workbench {
namespace {

/// A flat panel of 300 x 200 in the plane y = 500, its outside to the left.
shop::Panel plate(const std::string& id, shop::Finish finish, bool sensor) {
  shop::Panel panel;
  panel.id = id;
  panel.name = id;
  panel.finish = finish;
  panel.sensor = sensor;
  for (int j = 0; j < 2; ++j) {
    for (int i = 0; i < 2; ++i) panel.surface.points.push_back({300.0 * i, 500, 200.0 * j});
  }
  panel.surface.triangles = {{0, 2, 3}, {0, 3, 1}};
  return panel;
}

class Glass : public testing::Test {
 protected:
  void SetUp() override {
    workbench_ = workbench_in_memory().value();
    shop::VehicleModel vehicle;
    vehicle.id = "cart";
    vehicle.name = "A cart";
    vehicle.panels = {plate("door", shop::Finish::gloss_paint, false),
                      plate("lamp", shop::Finish::lamp, false),
                      plate("eye", shop::Finish::gloss_paint, true),
                      plate("cat_eye", shop::Finish::reflector, false),
                      plate("pane", shop::Finish::glass, false)};
    ASSERT_TRUE(workbench_->store().change([&](store::Book& book) {
      shop::Settings settings;
      settings.name = "Test shop";
      book.put(settings);
      shop::Film film;
      film.id = film.name = "film";
      film.suits = {shop::Finish::gloss_paint, shop::Finish::lamp, shop::Finish::reflector};
      book.put(film);
      shop::Film tint;
      tint.id = tint.name = "tint";
      tint.use = shop::FilmUse::glass;
      tint.suits = {shop::Finish::glass};
      book.put(tint);
      (void)book.receive(
          shop::Roll{"R-1", "film", "L", Mm{1524}, Mm{9000}, Mm{9000}, "2031-05-04", ""}, "", "");
      (void)book.receive(
          shop::Roll{"R-2", "tint", "L", Mm{1524}, Mm{9000}, Mm{9000}, "2031-05-04", ""}, "", "");
      return book.add(vehicle);
    }));
  }
  std::string open(std::vector<shop::ScopeItem> scope) {
    return open_job(*workbench_, {"Job", "", "cart", std::move(scope)}, "t").value().id;
  }
  Result<LayoutView> lay_out(const std::string& job) {
    LayoutOrder order;
    order.job = job;
    order.seconds = 0.2;
    return lay_out_job(*workbench_, order, {});
  }
  Result<void> sign(const std::string& job, const std::string& panel, shop::Concern concern,
                    bool go_ahead = true) {
    return record_decision(*workbench_, job,
                           {panel, concern, go_ahead, "Ada Lint", "inspected on 4 May", ""}, "t");
  }
  std::unique_ptr<Workbench> workbench_;
};

TEST_F(Glass, NothingIsLaidOutOnALampBeforeSomeoneSigns) {
  const std::string job = open({{"door", "film"}, {"lamp", "film"}});
  const auto refused = lay_out(job);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, ErrorCode::conflict);
  EXPECT_NE(refused.error().where.find("lamp"), std::string::npos);
  ASSERT_TRUE(sign(job, "lamp", shop::Concern::lamp));
  EXPECT_TRUE(lay_out(job));
  // The newest decision counts, and it stops the release as well.
  ASSERT_TRUE(sign(job, "lamp", shop::Concern::lamp, false));
  EXPECT_FALSE(lay_out(job));
  EXPECT_FALSE(move_job(*workbench_, {job, shop::JobState::released, "", {}}, "t"));
}

TEST_F(Glass, SensorsAndReflectorsAskLikewiseAndPlainPanelsDoNot) {
  EXPECT_TRUE(lay_out(open({{"door", "film"}})));
  const std::string job = open({{"eye", "film"}, {"cat_eye", "film"}});
  EXPECT_FALSE(lay_out(job));
  ASSERT_TRUE(sign(job, "eye", shop::Concern::sensor));
  EXPECT_NE(lay_out(job).error().message().find("reflector"), std::string::npos);
  ASSERT_TRUE(sign(job, "cat_eye", shop::Concern::reflector));
  EXPECT_TRUE(lay_out(job));
}

TEST_F(Glass, ADecisionWithoutNameOrBasisIsRefused) {
  const std::string job = open({{"lamp", "film"}});
  EXPECT_FALSE(record_decision(*workbench_, job,
                               {"lamp", shop::Concern::lamp, true, "", "inspected", ""}, "t"));
  EXPECT_FALSE(record_decision(*workbench_, job,
                               {"lamp", shop::Concern::lamp, true, "Ada Lint", "", ""}, "t"));
  EXPECT_FALSE(sign(job, "no such panel", shop::Concern::lamp));
}

TEST_F(Glass, ReadingsAreKeptAndJudged) {
  const std::string job = open({{"pane", "tint"}});
  ASSERT_TRUE(
      record_reading(*workbench_, job, {"pane", shop::Stage::before, 0.75, 0.02, "M", "Ada", ""}));
  EXPECT_FALSE(
      record_reading(*workbench_, job, {"pane", shop::Stage::after, 0.75, 0, "M", "Ada", ""}));
  ASSERT_TRUE(
      keep_film_optics(*workbench_, "tint", R"({"bands": {"visible": {"T": 0.4, "Rf": 0.06}}})"));
  auto glass = glass_of_job(*workbench_, job).value();
  ASSERT_EQ(glass.windows.size(), 1u);
  EXPECT_TRUE(glass.windows[0].computed);
  EXPECT_NEAR(glass.windows[0].visible->value, 0.33, 0.02);
  EXPECT_EQ(glass.windows[0].ruling.verdict, glazing::Verdict::unknown);  // no place yet
  ASSERT_TRUE(choose_place(*workbench_, job, "US-NC", "t"));
  EXPECT_FALSE(choose_place(*workbench_, job, "nowhere", "t"));
  ASSERT_TRUE(
      record_reading(*workbench_, job, {"pane", shop::Stage::after, 0.22, 0.02, "M", "Ada", ""}));
  glass = glass_of_job(*workbench_, job).value();
  EXPECT_FALSE(glass.windows[0].computed);
  EXPECT_EQ(glass.windows[0].ruling.verdict, glazing::Verdict::not_allowed);
  EXPECT_EQ(history(*workbench_, job).value().size(), 4u);
  const auto names = papers(*workbench_, job).value();
  EXPECT_TRUE(std::any_of(names.begin(), names.end(),
                          [](const PaperLine& line) { return line.id == "glass"; }));
  const auto paper = write_paper(*workbench_, job, "glass");
  ASSERT_TRUE(paper) << paper.error().message();
  EXPECT_EQ(paper->substr(0, 5), "%PDF-");
}

TEST_F(Glass, PiecesForWindowsAreLaidMirrored) {
  const std::string job = open({{"pane", "tint"}});
  const auto view = lay_out(job);
  ASSERT_TRUE(view) << view.error().message();
  // Held back 2 mm all round; the turns allowed keep +x along the roll.
  const Box box = bounding_box(view->problem.items[0].shape);
  EXPECT_NEAR(box.width(), 296, 0.1);
  EXPECT_NEAR(box.height(), 196, 0.1);
  EXPECT_EQ(view->problem.items[0].turns.size(), 2u);
}

TEST(DemoGlass, RequiredReflectorsStayBareAndWindowsHaveTheirPlaces) {
  const auto vehicle = demo::make_vehicle();
  const auto job = demo::make_job(vehicle);
  std::size_t reflectors = 0;
  for (const auto& panel : vehicle.panels) {
    if (panel.finish != shop::Finish::reflector) continue;
    ++reflectors;
    EXPECT_TRUE(std::none_of(job.scope.begin(), job.scope.end(), [&](const auto& item) {
      return item.panel == panel.id;
    })) << panel.id;
  }
  EXPECT_GT(reflectors, 0u);
  const auto position = [&](const std::string& id) {
    return position_of(*shop::find_panel(vehicle, id), vehicle);
  };
  using glazing::Position;
  EXPECT_EQ(position("windscreen"), Position::windscreen);
  EXPECT_EQ(position("door_glass_front_left"), Position::front_side);
  EXPECT_EQ(position("door_glass_rear_right"), Position::rear_side);
  EXPECT_EQ(position("quarter_glass_left"), Position::rear_side);
  EXPECT_EQ(position("rear_glass"), Position::rear);
  EXPECT_EQ(position("roof_glass"), std::nullopt);
  EXPECT_EQ(position("hood"), std::nullopt);
}

TEST(ShopLimits, OwnFilesReplaceAPlaceAndTellTheirFaults) {
  const auto folder = std::filesystem::path(testing::TempDir()) / "own limits";
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  const auto write = [&](const std::string& row) {
    std::ofstream(folder / "mine.json")
        << R"({"form": "filmwright-limits", "version": 1, "windows": [)" << row << "]}";
  };
  const std::string row =
      R"({"place": "US-NC", "place_name": "Here", "position": "rear", "kind": "at_least",)"
      R"( "least_percent": 40, "basis": "together", "text": "Bye-law 7", "confidence": "memory"})";
  write(row);
  const auto tables = limit_tables(folder);
  ASSERT_TRUE(tables) << tables.error().message();
  const auto count = std::count_if(tables->windows.begin(), tables->windows.end(),
                                   [](const auto& each) { return each.place == "US-NC"; });
  EXPECT_EQ(count, 1);
  EXPECT_GE(places_in(*tables).size(), 25u);
  write(row.substr(0, row.find("\"text\"")) + R"("confidence": "memory"})");
  const auto broken = limit_tables(folder);
  ASSERT_FALSE(broken);
  EXPECT_NE(broken.error().message().find("mine.json"), std::string::npos);
  EXPECT_NE(broken.error().message().find("window row 1"), std::string::npos);
  EXPECT_TRUE(limit_tables({}));
  std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace film::workbench
