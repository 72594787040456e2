// What a store in a file must do besides: survive, and say what is wrong with the file.

#include <csignal>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <thread>

#include <gtest/gtest.h>
#include <sqlite3.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/rng.h"
#include "base/text.h"
#include "host/files.h"
#include "store/migrations.h"
#include "store/store.h"
#include "unit/store/example_book.h"

namespace film::store {
namespace {

class SqliteStore : public testing::Test {
 protected:
  void SetUp() override {
    folder_ =
        std::filesystem::path(testing::TempDir()) /
        (std::string("store ") + testing::UnitTest::GetInstance()->current_test_info()->name());
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
    file_ = folder_ / "book.db";
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  /// Runs SQL behind the store's back; returns SQLite's complaint, or nothing.
  std::string meddle(const std::string& statement) const {
    sqlite3* database = nullptr;
    sqlite3_open(file_.c_str(), &database);
    char* complaint = nullptr;
    sqlite3_exec(database, statement.c_str(), nullptr, nullptr, &complaint);
    const std::string text = complaint == nullptr ? "" : complaint;
    sqlite3_free(complaint);
    sqlite3_close(database);
    return text;
  }

  std::filesystem::path folder_, file_;
};

TEST_F(SqliteStore, WhatWasPutIsThereAfterReopening) {
  { fill(*open_sqlite(file_).value()); }
  const auto store = open_sqlite(file_).value();
  EXPECT_EQ(store->look([](Book& book) { return book.vehicle("wagon", 0); }).value(),
            example_vehicle());
  EXPECT_TRUE(store->check_integrity());
}

TEST_F(SqliteStore, TheFileIsWriteAheadLoggedAndMarkedAsOurs) {
  {
    const auto store = open_sqlite(file_).value();
    EXPECT_TRUE(std::filesystem::exists(file_.string() + "-wal"));
  }
  const std::string bytes = host::read_file(file_).value();
  EXPECT_EQ(bytes.substr(68, 4), "FWKB");  // application id: sqlite.org/fileformat.html 1.3
}

TEST_F(SqliteStore, ABookOfANewerProgramIsRefused) {
  { ASSERT_TRUE(open_sqlite(file_)); }
  ASSERT_EQ(meddle(format("INSERT INTO migrations VALUES ({}, 'later')",
                          migrations().back().version + 1)),
            "");
  const auto refused = open_sqlite(file_);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, ErrorCode::unsupported);
  EXPECT_NE(refused.error().remedy.find("newer"), std::string::npos);
}

TEST_F(SqliteStore, ADatabaseOfAnotherProgramIsRefusedAndNotTouched) {
  ASSERT_EQ(meddle("CREATE TABLE theirs (x)"), "");
  const std::string before = host::read_file(file_).value();
  const auto refused = open_sqlite(file_);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, ErrorCode::unsupported);
  EXPECT_EQ(host::read_file(file_).value(), before);
}

TEST_F(SqliteStore, AFileThatIsNoDatabaseIsNamed) {
  ASSERT_TRUE(host::write_file(file_, std::string(5000, 'x')));
  const auto refused = open_sqlite(file_);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, ErrorCode::io);
  EXPECT_NE(refused.error().where.find("book.db"), std::string::npos);
}

TEST_F(SqliteStore, ADamagedFileIsNoticedAtTheStart) {
  { fill(*open_sqlite(file_).value()); }
  std::string bytes = host::read_file(file_).value();
  ASSERT_GT(bytes.size(), 3 * 4096u);
  for (std::size_t i = 4096; i < bytes.size(); ++i) bytes[i] = static_cast<char>(i % 251);
  ASSERT_TRUE(host::write_file(file_, bytes));
  const auto refused = open_sqlite(file_);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, ErrorCode::io);
  EXPECT_NE(refused.error().remedy.find("backup"), std::string::npos);
}

TEST_F(SqliteStore, AFolderThatIsNotThereIsNamed) {
  const auto refused = open_sqlite(folder_ / "none" / "book.db");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, ErrorCode::io);
}

TEST_F(SqliteStore, HistoryCannotBeRewrittenEvenByHand) {
  {
    const auto store = open_sqlite(file_).value();
    fill(*store);
    ASSERT_TRUE(store->change([](Book& book) {
      book.append("J-0001", {"t", "me", "opened", ""});
    }));
  }
  EXPECT_EQ(meddle("UPDATE history SET who = 'you'"), "history is append-only");
  EXPECT_EQ(meddle("DELETE FROM history"), "history is append-only");
}

TEST_F(SqliteStore, AChangedBlobIsNoticed) {
  const auto store = open_sqlite(file_).value();
  const std::string hash = store->change([](Book& book) { return book.put_blob("film"); }).value();
  ASSERT_EQ(meddle("UPDATE blobs SET bytes = x'00'"), "");
  const auto read = store->look([&](Book& book) { return book.blob(hash); });
  ASSERT_FALSE(read);
  EXPECT_EQ(read.error().code, ErrorCode::io);
}

TEST_F(SqliteStore, ABackupIsAWholeBookAndNeverOverwrites) {
  const auto store = open_sqlite(file_).value();
  fill(*store);
  ASSERT_TRUE(store->back_up(folder_ / "copy.db"));
  EXPECT_EQ(store->back_up(folder_ / "copy.db").error().code, ErrorCode::conflict);
  const auto copy = open_sqlite(folder_ / "copy.db").value();
  EXPECT_EQ(copy->look([](Book& book) { return book.vehicle("wagon", 0); }).value(),
            example_vehicle());
  EXPECT_TRUE(copy->check_integrity());
}

TEST_F(SqliteStore, ManyThreadsReadAndWriteAtOnce) {
  const auto store = open_sqlite(file_).value();
  fill(*store);
  std::vector<std::thread> threads;
  std::atomic<int> failures{0};
  for (int t = 0; t < 8; ++t) {
    threads.emplace_back([&store, &failures, t] {
      for (int i = 0; i < 25; ++i) {
        const bool done =
            t % 2 == 0
                ? store->change([](Book& book) {
                         book.append("J-0001", {"t", "w", "x", ""});
                       })
                      .has_value()
                : store->look([](Book& book) { return book.jobs().size(); }).has_value();
        failures += !done;
      }
    });
  }
  for (auto& thread : threads) thread.join();
  EXPECT_EQ(failures, 0);
  EXPECT_EQ(store->look([](Book& book) { return book.history("J-0001").size(); }).value(), 100u);
}

// The limit on the size of files stands in for a full disk: writes past it fail.
TEST_F(SqliteStore, AFullDiskLosesNothing) {
  const auto store = open_sqlite(file_).value();
  fill(*store);
  rlimit before{};
  getrlimit(RLIMIT_FSIZE, &before);
  signal(SIGXFSZ, SIG_IGN);
  const rlimit full{1 << 20, before.rlim_max};
  ASSERT_EQ(setrlimit(RLIMIT_FSIZE, &full), 0);
  const auto put = [&store] {
    return store->change([](Book& book) { return book.put_blob(std::string(4 << 20, 'f')); });
  };
  const auto refused = put();
  setrlimit(RLIMIT_FSIZE, &before);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, ErrorCode::io);
  EXPECT_TRUE(store->check_integrity());
  EXPECT_EQ(store->look([](Book& book) { return book.vehicle("wagon", 0); }).value(),
            example_vehicle());
  EXPECT_TRUE(put());  // and the book works on once there is room
}

// A child process writes pairs of records and tells each acknowledged number through a pipe; it is
// killed at a random moment. What it told must be there, and never half a pair.
TEST_F(SqliteStore, KilledAtAnyMomentNoAcknowledgedChangeIsLost) {
  { fill(*open_sqlite(file_).value()); }
  Rng rng(20310504);
  std::size_t told = 0;
  for (int round = 0; round < 20; ++round) {
    int pipe_ends[2];
    ASSERT_EQ(pipe(pipe_ends), 0);
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      auto store = open_sqlite(file_);
      while (store) {
        const auto done = (*store)->change([](Book& book) {
          book.append("J-0001", {"t", "child", "first", ""});
          book.append("J-0001", {"t", "child", "second", ""});
        });
        if (!done || write(pipe_ends[1], "x", 1) != 1) break;
      }
      _exit(1);
    }
    close(pipe_ends[1]);
    char byte = 0;
    ASSERT_EQ(read(pipe_ends[0], &byte, 1), 1);  // it has begun
    ++told;
    usleep(static_cast<useconds_t>(rng.below(20000)));
    kill(child, SIGKILL);
    waitpid(child, nullptr, 0);
    while (read(pipe_ends[0], &byte, 1) == 1) ++told;
    close(pipe_ends[0]);

    const auto store = open_sqlite(file_);
    ASSERT_TRUE(store) << store.error().message();
    ASSERT_TRUE((*store)->check_integrity());
    const auto history = (*store)->look([](Book& book) { return book.history("J-0001"); }).value();
    ASSERT_EQ(history.size() % 2, 0u);
    const std::size_t pairs = history.size() / 2;
    EXPECT_GE(pairs, told);
    EXPECT_LE(pairs, told + 1);  // one may have been kept and not yet told
    told = pairs;
  }
}

}  // namespace
}  // namespace film::store
