#include "spool/journal.h"

#include <csignal>
#include <fstream>

#include <gtest/gtest.h>
#include <sys/resource.h>

#include "host/files.h"

namespace film::spool {
namespace {

std::filesystem::path fresh(const std::string& name) {
  const auto file = std::filesystem::path(FILM_BINARY_DIR) / ("journal_" + name);
  std::filesystem::remove(file);
  return file;
}

TEST(FileJournalTest, WhatWasNotedIsThereAndHalfALineIsNot) {
  const auto file = fresh("torn");
  {
    auto journal = FileJournal::create(file, "heading").value();
    ASSERT_TRUE(journal.note({Mark::opened, 0, "here"}));
    ASSERT_TRUE(journal.note({Mark::begun, 4, {}}));
    EXPECT_EQ(FileJournal::open(file).error().code, ErrorCode::conflict);  // in use
  }
  std::ofstream(file, std::ios::app) << "done";
  {
    auto journal = FileJournal::open(file).value();
    EXPECT_EQ(journal.heading(), "heading");
    EXPECT_EQ(journal.entries(),
              (std::vector<Entry>{{Mark::opened, 0, "here"}, {Mark::begun, 4, {}}}));
    ASSERT_TRUE(journal.note({Mark::done, 4, {}}));
  }
  EXPECT_EQ(host::read_file(file).value(), "heading\nopened here\nbegun 4\ndone 4\n");
  EXPECT_EQ(FileJournal::create(file, "x").error().code, ErrorCode::conflict);
}

TEST(FileJournalTest, AFullDiskIsAnErrorAndLeavesWholeLines) {
  const auto file = fresh("full");
  auto journal = FileJournal::create(file, "heading").value();
  // The system refuses to let any file grow past this, as a full disk would.
  rlimit before{};
  ::getrlimit(RLIMIT_FSIZE, &before);
  const rlimit small{20, before.rlim_max};
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  ::setrlimit(RLIMIT_FSIZE, &small);
  const auto first = journal.note({Mark::begun, 1, {}});
  const auto second = journal.note({Mark::interrupted, 0, "a long story of why it is"});
  ::setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, handler);
  EXPECT_TRUE(first);
  ASSERT_FALSE(second);
  EXPECT_EQ(second.error().code, ErrorCode::io);
  EXPECT_EQ(host::read_file(file).value(), "heading\nbegun 1\n");
}

}  // namespace
}  // namespace film::spool
