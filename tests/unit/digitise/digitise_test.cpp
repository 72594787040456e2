#include "digitise/digitise.h"

#include <cmath>

#include <gtest/gtest.h>

#include "digitise/board.h"
#include "documents/marker_board.h"
#include "support/synthetic_photo.h"

// The photos are taken by tests/support/synthetic_photo.h, which shares no code with the digitiser,
// of the sheets as poppler draws them from the printed PDF.
namespace film::digitise {
namespace {

constexpr double kDpi = 150;

const std::vector<GreyRaster>& pages() {
  static const std::vector<GreyRaster> all =
      test::pages_of(*documents::write_marker_board({}), static_cast<int>(kDpi));
  return all;
}

/// The turn of the first sheet, as which the outline comes out.
const double kAsSheet1 = test::ring_of_sheets()[0].turn;

/// A camera of 1.5 megapixels with the same view as one of 12.
test::CameraOnTable small(test::CameraOnTable camera) {
  constexpr double kShare = 0.35;
  camera.width = static_cast<int>(camera.width * kShare);
  camera.height = static_cast<int>(camera.height * kShare);
  camera.focal *= kShare;
  camera.off_centre = kShare * camera.off_centre;
  return camera;
}

test::SceneOnTable table(std::vector<Polygon> templates) {
  test::SceneOnTable scene;
  scene.sheets = test::ring_of_sheets();
  scene.templates = std::move(templates);
  scene.print_x = 0.998;
  scene.print_y = 1.0015;
  return scene;
}

GreyRaster photo_of(const test::SceneOnTable& scene, const test::CameraOnTable& camera) {
  return test::Photographer(scene, camera, pages(), kDpi).take();
}

/// The check lines as a person would read them from a rule, to 0.2 mm.
Options measured(const test::SceneOnTable& scene) {
  Options options;
  options.long_check = Mm{std::round(kLongCheckLine * scene.print_y * 5) / 5};
  options.short_check = Mm{std::round(kShortCheckLine * scene.print_x * 5) / 5};
  return options;
}

std::string refusal(const GreyRaster& photo, const Options& options) {
  const auto result = digitise(photo, options);
  return result ? "traced" : result.error().message();
}

Options any_print() {
  Options options;
  options.long_check = Mm{240};
  return options;
}

TEST(Digitise, TracesATemplateOfAMetreWithinItsExpectedError) {
  ASSERT_EQ(pages().size(), 8u) << "pdftoppm (poppler-utils) is needed";
  const auto shapes = test::known_templates();
  const auto cameras = test::known_cameras();
  for (const auto& [shape, camera] : {std::pair{0, 1}, {2, 3}}) {
    auto scene = table({shapes[static_cast<std::size_t>(shape)]});
    if (shape == 2) {
      scene.ground = 0.12;  // a bright template on a dark ground
      scene.colour = 0.7;
    }
    const auto lens = small(cameras[static_cast<std::size_t>(camera)]);
    const auto result = digitise(photo_of(scene, lens), measured(scene));
    ASSERT_TRUE(result) << result.error().message();
    ASSERT_EQ(result->outlines.size(), 1u);
    const Outline& outline = result->outlines.front();
    EXPECT_EQ(outline.polygon.holes.size(), scene.templates.front().holes.size());
    const test::Apart apart = test::apart(outline.polygon, scene.templates.front());
    EXPECT_LT(apart.p95, 0.5) << "shape " << shape << " camera " << camera;
    EXPECT_LT(apart.p95, outline.accuracy.expected);
    EXPECT_LT(outline.accuracy.expected, 1.0);  // a bound that says something
    EXPECT_NEAR(result->view.focal, lens.focal, 0.03 * lens.focal);
    EXPECT_NEAR(result->view.tilt.radians, lens.tilt, 0.01);
    std::size_t curves = 0;
    for (const CurvePath& path : outline.curves) curves += path.cubics.size();
    EXPECT_LT(10 * curves, 3000u);  // a point was measured each mm or so
  }
}

TEST(Digitise, MeasuredCheckLinesCorrectThePrintScale) {
  auto scene = table({*make_polygon(test::rounded_box({0, 0}, 600, 300, 30, kAsSheet1))});
  scene.print_x = scene.print_y = 0.97;  // "fit to page"
  const auto photo = photo_of(scene, small(test::known_cameras()[0]));
  const auto box_of = [&](double check) {
    Options options = any_print();
    options.long_check = Mm{check};
    return bounding_box(digitise(photo, options)->outlines.front().polygon);
  };
  EXPECT_NEAR(box_of(240 * 0.97).width(), 600, 0.6);
  EXPECT_NEAR(box_of(240).width(), 600 / 0.97, 0.8);
}

TEST(Digitise, TheThicknessOfTheTemplateIsTakenOut) {
  auto scene = table({*make_polygon(test::rounded_box({0, 0}, 800, 400, 30, kAsSheet1))});
  scene.print_x = scene.print_y = 1;
  scene.thickness = 6;  // a board rather than paper: 6 mm in 1700 is 2.8 mm over 800
  const auto photo = photo_of(scene, small(test::known_cameras()[2]));
  Options options = any_print();
  options.thickness = Mm{6};
  EXPECT_NEAR(bounding_box(digitise(photo, options)->outlines.front().polygon).width(), 800, 0.6);
  options.thickness = Mm{0};
  EXPECT_GT(bounding_box(digitise(photo, options)->outlines.front().polygon).width(), 802);
}

TEST(Digitise, LiesAsTheLowestSheetReads) {
  // Sheet 1 lies 0.03 rad turned; a long template along the table comes out turned back by that.
  const auto scene = table({*make_polygon(test::rounded_box({0, 0}, 800, 100, 10))});
  const auto result = digitise(photo_of(scene, small(test::known_cameras()[0])), measured(scene));
  ASSERT_TRUE(result) << result.error().message();
  const Box box = bounding_box(result->outlines.front().polygon);
  EXPECT_NEAR(box.low.x, 0, 1e-9);
  EXPECT_NEAR(box.low.y, 0, 1e-9);
  EXPECT_NEAR(box.height(), 80 * std::cos(0.03) + 780 * std::sin(0.03) + 20, 0.6);
}

TEST(Digitise, RefusesWhatItCannotMeasureWithARemedy) {
  const auto shapes = test::known_templates();
  const auto camera = small(test::known_cameras()[0]);
  const GreyRaster blank{800, 600, std::vector<std::uint8_t>(480'000, 180)};
  EXPECT_NE(refusal(blank, any_print()).find("shows no marker of the board. Print"),
            std::string::npos);
  EXPECT_NE(refusal({}, any_print()).find("shows no marker"), std::string::npos);

  auto two = table({shapes[1]});
  two.sheets.resize(2);
  EXPECT_NE(refusal(photo_of(two, camera), any_print()).find("2 sheets"), std::string::npos);

  auto twice = table({shapes[1]});
  twice.sheets[5].page = 0;
  EXPECT_NE(refusal(photo_of(twice, camera), any_print()).find("sheet 1 lies there twice"),
            std::string::npos);

  auto under = table({*make_polygon(test::rounded_box({0, 0}, 1500, 420, 30))});
  under.sheets[0].at = {-620, 250};
  EXPECT_NE(refusal(photo_of(under, camera), any_print()).find("reaches a sheet"),
            std::string::npos);

  auto pale = table({shapes[1]});
  pale.colour = 0.74;
  auto even = camera;
  even.shade = 0;
  EXPECT_NE(refusal(photo_of(pale, even), any_print()).find("stands out"), std::string::npos);

  auto shaken = camera;
  shaken.blur = 4;
  const std::string blurred = refusal(photo_of(table({shapes[1]}), shaken), any_print());
  EXPECT_TRUE(blurred.find("blurred") != std::string::npos ||
              blurred.find("marker") != std::string::npos)
      << blurred;

  Options inches = any_print();
  inches.long_check = Mm{24};
  EXPECT_NE(refusal(blank, inches).find("print scale"), std::string::npos);
}

TEST(Digitise, StopsWhenAsked) {
  const auto scene = table({});
  const auto result = digitise(photo_of(scene, small(test::known_cameras()[0])), any_print(),
                               Context([] { return true; }));
  ASSERT_FALSE(result);
  EXPECT_EQ(result.error().code, ErrorCode::cancelled);
}

TEST(Board, PrintsItsMarkersAndCheckLinesAtTrueSize) {
  // poppler's picture of the page against the places that the digitiser goes by.
  ASSERT_EQ(pages().size(), 8u);
  const GreyRaster& page = pages()[3];
  const double dots = kDpi / 25.4;
  EXPECT_NEAR(page.width / dots, 210, 0.2);
  const auto ink = [&](Vec2 p) {
    return page.at(static_cast<int>(0.5 * page.width + p.x * dots),
                   static_cast<int>(0.5 * page.height - p.y * dots)) < 128;
  };
  for (int place = 0; place < kMarkersOnSheet; ++place) {
    const int id = marker_id(3, place);
    const auto corners = marker_corners(id);
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec2 outward = (corners[k] - marker_centre(id)) / kMarkerSide;
      EXPECT_TRUE(ink(corners[k] - 0.8 * outward));
      EXPECT_FALSE(ink(corners[k] + 0.8 * outward));
    }
  }
  EXPECT_TRUE(ink(kLongCheckFrom + Vec2{0, 0.5 * kLongCheckLine + 5}));
  EXPECT_TRUE(ink(kLongCheckFrom + Vec2{2, 0}));
  EXPECT_TRUE(ink(kLongCheckFrom + Vec2{2, kLongCheckLine}));
  EXPECT_FALSE(ink(kLongCheckFrom + Vec2{0, kLongCheckLine + 0.5}));
  EXPECT_TRUE(ink(kShortCheckFrom + Vec2{kShortCheckLine, -2}));
  EXPECT_FALSE(ink(kShortCheckFrom + Vec2{kShortCheckLine + 0.5, 0}));
}

}  // namespace
}  // namespace film::digitise
