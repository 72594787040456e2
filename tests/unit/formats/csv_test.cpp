#include "formats/csv.h"

#include <gtest/gtest.h>

#include "base/rng.h"

namespace film::formats {
namespace {

using Rows = std::vector<std::vector<std::string>>;

Rows cells_of(std::string_view text) {
  const auto rows = read_csv(text);
  EXPECT_TRUE(rows) << rows.error().message();
  Rows cells;
  if (!rows) return cells;
  for (const CsvRow& row : *rows) cells.push_back(row.cells);
  return cells;
}

// The examples of RFC 4180, section 2, items 1, 2, 5, 6 and 7.
TEST(Csv, ReadsTheExamplesOfTheStandard) {
  EXPECT_EQ(cells_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"),
            (Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(cells_of("aaa,bbb,ccc\r\nzzz,yyy,xxx"),
            (Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(cells_of("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            (Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(cells_of("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            (Rows{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(cells_of("\"aaa\",\"b\"\"bb\",\"ccc\""), (Rows{{"aaa", "b\"bb", "ccc"}}));
}

TEST(Csv, ReadsMarksLineFeedsAndEmptyCells) {
  EXPECT_EQ(cells_of("\xEF\xBB\xBF"
                     "a,b\n,\n"),
            (Rows{{"a", "b"}, {"", ""}}));
  EXPECT_EQ(cells_of(""), Rows{});
  EXPECT_EQ(cells_of("\"\"\r\n"), (Rows{{""}}));
  const auto rows = read_csv("a\n\"b\nc\"\nd\n");
  ASSERT_TRUE(rows);
  EXPECT_EQ((*rows)[2].line, 4u);
}

TEST(Csv, FaultsNameLineAndColumn) {
  const auto where = [](std::string_view text) {
    const auto rows = read_csv(text);
    return rows ? "" : rows.error().where;
  };
  EXPECT_EQ(where("a,b\r\nc,d\"e\r\n"), "line 2, column 2");
  EXPECT_EQ(where("a,b\r\n\"c\"x,d\r\n"), "line 2, column 1");
  EXPECT_EQ(where("a,b\r\nc,\"d"), "line 2, column 2");
  EXPECT_EQ(where("a,b\r\nc\r\n"), "line 2, column 1");
  EXPECT_EQ(where("a,b\r\nc,\xFF\r\n"), "line 2, column 2");
  EXPECT_EQ(where("a,b\r\nc,\xED\xA0\x80\r\n"), "line 2, column 2");  // half of a pair
}

// The signs of OWASP's "CSV Injection".
TEST(Csv, NoCellIsAFormula) {
  for (const char* cell : {"=1+1", "+1", "-1", "@sum", "\tx", "\rx", "'=1"}) {
    const std::string text = write_csv({{cell, "x"}});
    const std::size_t first = text[0] == '"' ? 1 : 0;
    EXPECT_EQ(text[first], '\'') << cell;
    EXPECT_EQ(cells_of(text), (Rows{{cell, "x"}}));
  }
  EXPECT_EQ(write_csv({{"it's", "'quoted'"}}), "it's,'quoted'\r\n");
}

TEST(Csv, WhatIsWrittenComesBack) {
  const std::vector<std::string> kParts{"a", ",", "\"",     "\r\n",       "\n", "\r", "'", "=",
                                        "-", " ", "\u00e4", "\U0001F697", "@",  "\t", ""};
  Rng rng(7);
  for (int round = 0; round < 3000; ++round) {
    Rows rows(1 + rng.below(4));
    const std::size_t width = 1 + rng.below(4);
    for (auto& row : rows) {
      for (std::size_t i = 0; i < width; ++i) {
        std::string cell;
        for (std::size_t k = rng.below(6); k > 0; --k) cell += kParts[rng.below(kParts.size())];
        row.push_back(cell);
      }
    }
    ASSERT_EQ(cells_of(write_csv(rows)), rows);
  }
}

}  // namespace
}  // namespace film::formats
