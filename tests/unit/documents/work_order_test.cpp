#include "documents/work_order.h"

#include <gtest/gtest.h>

#include "unit/documents/independent_reader.h"

namespace film::documents {
namespace {

Polygon rectangle(double x, double y, double w, double h) {
  return make_polygon({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}).value();
}

WorkOrder sample() {
  WorkOrder order;
  order.job = "J-0007";
  order.title = "Full body, clear gloss";
  order.vehicle = "Meridian Estate";
  order.customer = "A. Example";
  order.date = "2031-05-04T10:00:00Z";
  order.cautions = {"Blades: sheathe them."};
  PanelCard card;
  card.piece = "hood";
  card.title = "Hood";
  card.zone = "front";
  card.film = "Clear gloss, lot 44-A";
  card.bulk = true;
  card.remarks = {"The lip at the front curls by 74 degrees."};
  card.anchors = {{700, 450}};
  card.pulls = {{{700, 450}, {700, 880}, 12.4, 1.03, 2, {1, 0, 0}}};
  card.finger_share = 0.021;
  card.peak_stretch = 1.06;
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

Stationery stationery() {
  Stationery s;
  s.shop = "Kestrel Lane Film Works";
  s.head.address = "http://127.0.0.1:8750";
  return s;
}

TEST(WorkOrder, SaysEverythingTheInstallerNeeds) {
  const auto pdf = write_work_order(sample(), stationery());
  ASSERT_TRUE(pdf);
  const std::string text = text_of(*pdf);
  for (const char* words :
       {"Kestrel Lane Film Works", "J-0007", "Meridian Estate", "4 May 2031", "9000 mm", "20.0 %",
        "Hood", "Bulk sheet", "curls by 74 degrees",
        "Pull 12 mm front, stretch 1.03, draws back 2 mm", "Fingers on 2.1 %", "1.060",
        "Sensor: ask first.", "Local code and licensed practice decide"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words;
  }
}

TEST(WorkOrder, ShowsInchesWhenTheShopUsesThem) {
  Stationery inches = stationery();
  inches.head.paper = shop::PaperSize::letter;
  inches.unit = shop::LengthUnit::inch;
  const auto pdf = write_work_order(sample(), inches);
  ASSERT_TRUE(pdf);
  EXPECT_NE(text_of(*pdf).find("354.3 in"), std::string::npos);
}

TEST(WorkOrder, SameInputSameBytes) {
  EXPECT_EQ(write_work_order(sample(), stationery()).value(),
            write_work_order(sample(), stationery()).value());
}

TEST(LengthText, ReadsLikeAPersonWouldWriteIt) {
  EXPECT_EQ(length_text(Mm{1524}, shop::LengthUnit::mm, shop::Language::english), "1524 mm");
  EXPECT_EQ(length_text(Mm{15240}, shop::LengthUnit::mm, shop::Language::english), "15.24 m");
  EXPECT_EQ(length_text(Mm{1524}, shop::LengthUnit::inch, shop::Language::english), "60.0 in");
}

}  // namespace
}  // namespace film::documents
