#include "documents/work_order.h"

#include <array>
#include <cstdio>
#include <filesystem>

#include <gtest/gtest.h>

#include "base/text.h"
#include "host/files.h"

namespace film::documents {
namespace {

Polygon rectangle(double x, double y, double w, double h) {
  return make_polygon({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}).value();
}

WorkOrder sample() {
  WorkOrder order;
  order.shop = "Kestrel Lane Film Works";
  order.job = "J-0007";
  order.title = "Full body, clear gloss";
  order.vehicle = "Meridian Estate";
  order.customer = "A. Example";
  order.date = "2031-05-04T10:00:00Z";
  order.address = "http://127.0.0.1:8750/jobs/J-0007";
  order.cautions = {"Blades: sheathe them."};
  PanelCard card;
  card.piece = "hood";
  card.title = "Hood";
  card.zone = "front";
  card.film = "Clear gloss, lot 44-A";
  card.bulk = true;
  card.method = "Bulk sheet";
  card.reasons = {"The lip at the front curls by 74 degrees."};
  card.fold = rectangle(6, 6, 1400, 900);
  card.cut = rectangle(0, 0, 1412, 912);
  card.cautions = {"Sensor: ask first."};
  for (int i = 0; i < 4; ++i) order.cards.push_back(card);
  order.maps.push_back({"Clear gloss",
                        "R-0001",
                        Mm{1524},
                        Mm{9000},
                        0.2,
                        {{1, rectangle(10, 10, 1412, 912)}, {2, rectangle(5000, 10, 1412, 912)}}});
  return order;
}

/// What an independent reader (poppler's pdftotext) finds in the PDF.
std::string text_of(const std::string& pdf) {
  const auto path = std::filesystem::path(testing::TempDir()) / "work_order_test.pdf";
  EXPECT_TRUE(host::write_file(path, pdf));
  FILE* pipe = popen(format("pdftotext -layout {} -", path.string()).c_str(), "r");
  std::string text;
  std::array<char, 4096> block{};
  while (const std::size_t count = fread(block.data(), 1, block.size(), pipe)) {
    text.append(block.data(), count);
  }
  EXPECT_EQ(pclose(pipe), 0);
  return text;
}

TEST(WorkOrder, SaysEverythingTheInstallerNeeds) {
  const auto pdf = write_work_order(sample(), {});
  ASSERT_TRUE(pdf);
  const std::string text = text_of(*pdf);
  for (const char* words : {"Kestrel Lane Film Works", "J-0007", "Meridian Estate", "2031-05-04",
                            "9000 mm", "waste 20.0 %", "Hood", "Bulk sheet", "curls by 74 degrees",
                            "Sensor: ask first.", "Local code and licensed practice decide"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words;
  }
}

TEST(WorkOrder, ShowsInchesWhenTheShopUsesThem) {
  const auto pdf = write_work_order(sample(), {Paper::letter, shop::LengthUnit::inch});
  ASSERT_TRUE(pdf);
  EXPECT_NE(text_of(*pdf).find("354.3 in"), std::string::npos);
}

TEST(WorkOrder, SameInputSameBytes) {
  EXPECT_EQ(write_work_order(sample(), {}).value(), write_work_order(sample(), {}).value());
}

TEST(LengthText, ReadsLikeAPersonWouldWriteIt) {
  EXPECT_EQ(length_text(Mm{1524}, shop::LengthUnit::mm), "1524 mm");
  EXPECT_EQ(length_text(Mm{15240}, shop::LengthUnit::mm), "15.24 m");
  EXPECT_EQ(length_text(Mm{1524}, shop::LengthUnit::inch), "60.0 in");
}

}  // namespace
}  // namespace film::documents
