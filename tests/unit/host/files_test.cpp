#include "host/files.h"

#include <filesystem>

#include <gtest/gtest.h>

namespace film::host {
namespace {

class Files : public testing::Test {
 protected:
  void SetUp() override { std::filesystem::create_directories(folder_); }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::filesystem::path folder_ =
      std::filesystem::path(testing::TempDir()) /
      ("files_test_" + std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
};

TEST_F(Files, WhatIsWrittenIsRead) {
  const std::string bytes("a\0b\n", 4);
  ASSERT_TRUE(write_file(folder_ / "x", bytes));
  EXPECT_EQ(read_file(folder_ / "x").value(), bytes);
}

TEST_F(Files, WritingReplacesAndLeavesNothingElseBehind) {
  ASSERT_TRUE(write_file(folder_ / "x", "old"));
  ASSERT_TRUE(write_file(folder_ / "x", "new"));
  EXPECT_EQ(read_file(folder_ / "x").value(), "new");
  const auto entries = std::distance(std::filesystem::directory_iterator(folder_), {});
  EXPECT_EQ(entries, 1);
}

TEST_F(Files, EachFailureNamesThePath) {
  const auto missing = read_file(folder_ / "none");
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.error().code, ErrorCode::not_found);
  EXPECT_NE(missing.error().where.find("none"), std::string::npos);

  ASSERT_TRUE(write_file(folder_ / "big", "0123456789"));
  EXPECT_EQ(read_file(folder_ / "big", 5).error().code, ErrorCode::too_large);
  EXPECT_EQ(read_file(folder_).error().code, ErrorCode::invalid_input);
  EXPECT_EQ(write_file(folder_ / "no" / "folder", "x").error().code, ErrorCode::io);
}

}  // namespace
}  // namespace film::host
