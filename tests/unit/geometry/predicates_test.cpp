#include "geometry/predicates.h"

#include <gtest/gtest.h>

namespace film {
namespace {

TEST(Orientation, TellsLeftRightAndOn) {
  EXPECT_EQ(orientation({0, 0}, {1, 0}, {0, 1}), 1);
  EXPECT_EQ(orientation({0, 0}, {1, 0}, {0, -1}), -1);
  EXPECT_EQ(orientation({0, 0}, {1, 0}, {5, 0}), 0);
}

// Kettner, Mehlhorn, Pion, Schirra, Yap, "Classroom examples of robustness problems in geometric
// computations", 2008: near (0.5, 0.5) plain double arithmetic gets the side of the line
// (12,12)-(24,24) wrong for points one ulp apart.
TEST(Orientation, IsExactWherePlainDoublesFail) {
  constexpr double kUlp = 0x1.0p-53;
  for (int i = 0; i < 32; ++i) {
    for (int j = 0; j < 32; ++j) {
      const Vec2 p{0.5 + i * kUlp, 0.5 + j * kUlp};
      const int expected = p.y > p.x ? 1 : (p.y < p.x ? -1 : 0);
      EXPECT_EQ(orientation({12, 12}, {24, 24}, p), expected) << i << ' ' << j;
    }
  }
}

TEST(Meet, NamesEveryWayTwoSegmentsMeet) {
  EXPECT_EQ(meet({0, 0}, {2, 2}, {0, 2}, {2, 0}), Meeting::cross);
  EXPECT_EQ(meet({0, 0}, {2, 0}, {1, 0}, {1, 1}), Meeting::touch);
  EXPECT_EQ(meet({0, 0}, {2, 0}, {2, 0}, {3, 1}), Meeting::touch);
  EXPECT_EQ(meet({0, 0}, {2, 0}, {1, 0}, {3, 0}), Meeting::overlap);
  EXPECT_EQ(meet({0, 0}, {2, 0}, {2, 0}, {3, 0}), Meeting::touch);
  EXPECT_EQ(meet({0, 0}, {2, 0}, {3, 0}, {4, 0}), Meeting::none);
  EXPECT_EQ(meet({0, 0}, {2, 0}, {0, 1}, {2, 1}), Meeting::none);
}

}  // namespace
}  // namespace film
