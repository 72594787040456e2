#include "exchange/piece_json.h"

#include <gtest/gtest.h>

#include "pattern/allowance.h"
#include "pattern/twin.h"

namespace film::exchange {
namespace {

using pattern::Corner;
using pattern::EdgeKind;
using pattern::Piece;

Piece sample() {
  Piece piece;
  piece.id = "door_left";
  piece.name = "Left door \"outer\"";
  piece.zone = "left";
  piece.fold = *make_polygon({{0, 0}, {100.1, 1.0 / 3}, {110, 60}, {20, 70}},
                             {{{40, 20}, {40, 30}, {60, 30}, {60, 20}}});
  piece.edges = {{"sill", EdgeKind::hem, 0, 0, Mm{6.35}, Corner::notch},
                 {"top", EdgeKind::seal, 0, 2, Mm{-1.5}, Corner::slit},
                 {"handle", EdgeKind::cutout, 1, 0, Mm{0}, Corner::closed}};
  piece.labels = {{"front", {50, 40}, Angle{0.7}}};
  return *pattern::extend(piece);
}

TEST(PieceJson, ReadsBackWhatItWroteToTheLastBit) {
  const std::vector<Piece> pieces{sample(), pattern::twin(sample())};
  const auto read = read_pieces(write_pieces(pieces));
  ASSERT_TRUE(read.has_value()) << read.error().message();
  EXPECT_EQ(*read, pieces);
  EXPECT_EQ(write_pieces(*read), write_pieces(pieces));
}

TEST(PieceJson, ASinglePieceWithABareOutlineIsDividedAtItsCorners) {
  const auto read =
      read_pieces(R"({"id": "plate", "fold": {"outer": [[0,0],[100,0],[100,50],[0,50]]}})");
  ASSERT_TRUE(read.has_value()) << read.error().message();
  EXPECT_EQ(read->at(0).edges.size(), 4u);
  EXPECT_EQ(read->at(0).cut, read->at(0).fold);
}

struct Refused {
  const char* what;
  const char* document;
  const char* place;
};

TEST(PieceJson, RefusesBadInputNamingThePlace) {
  const Refused cases[] = {
      {"not JSON", "{", "line 1"},
      {"empty", "", "line 1"},
      {"a list", "[]", "file"},
      {"no outline", R"({"id": "a"})", "fold"},
      {"open text", R"({"pieces": [{"id": 3}]})", "pieces[0].id"},
      {"too few points", R"({"id": "a", "fold": {"outer": [[0,0],[1,0]]}})", "fold"},
      {"clockwise", R"({"id": "a", "fold": {"outer": [[0,0],[0,9],[9,9]]}})", "fold"},
      {"crossing", R"({"id": "a", "fold": {"outer": [[0,0],[9,9],[9,0],[0,8]]}})", "fold"},
      {"infinite", R"({"id": "a", "fold": {"outer": [[0,0],[1e999,0],[9,9]]}})", "file"},
      {"huge", R"({"id": "a", "fold": {"outer": [[0,0],[1e30,0],[9,9]]}})", "outer[1][0]"},
      {"bad kind",
       R"({"id":"a","fold":{"outer":[[0,0],[9,0],[9,9]]},"edges":[{"name":"x","first":0,"kind":"zip"}]})",
       "edges[0].kind"},
      {"bad index",
       R"({"id":"a","fold":{"outer":[[0,0],[9,0],[9,9]]},"edges":[{"name":"x","first":7}]})",
       "\"x\""},
      {"same id twice",
       R"({"pieces":[{"id":"a","fold":{"outer":[[0,0],[9,0],[9,9]]}},{"id":"a","fold":{"outer":[[0,0],[9,0],[9,9]]}}]})",
       "pieces"},
      {"inches", R"({"units": "in", "pieces": []})", "units"},
  };
  for (const Refused& c : cases) {
    const auto read = read_pieces(c.document, "file");
    ASSERT_FALSE(read.has_value()) << c.what;
    EXPECT_NE(read.error().message().find(c.place), std::string::npos)
        << c.what << ": " << read.error().message();
  }
}

TEST(PieceJson, ALaterVersionIsUnsupported) {
  const auto read = read_pieces(R"({"version": 2, "pieces": []})");
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().code, ErrorCode::unsupported);
}

}  // namespace
}  // namespace film::exchange
