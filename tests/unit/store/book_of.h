#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <type_traits>
#include <utility>

#include <gtest/gtest.h>
#include <unistd.h>

#include "store/store.h"
#include "support/postgres_cluster.h"

namespace film::store {

struct Kind {
  std::string name;
  std::function<Result<std::unique_ptr<Store>>(const std::filesystem::path&)> open;
};

/// A new book of each kind; every test of a family of records runs on all of them.
class BookOf : public testing::TestWithParam<Kind> {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::path(testing::TempDir()) /
              ("book of tests " + std::to_string(getpid())) / GetParam().name;
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
    if (GetParam().name == "postgres" && !test::postgres_is_here()) {
      GTEST_SKIP() << "no PostgreSQL server is installed";
    }
    auto opened = GetParam().open(folder_ / "book.db");
    ASSERT_TRUE(opened) << opened.error().message();
    store_ = std::move(*opened);
  }
  void TearDown() override {
    store_.reset();
    std::filesystem::remove_all(folder_.parent_path());
  }

  template <class Use>
  auto look(Use use) {
    auto seen = store_->look(std::move(use));
    if constexpr (std::is_same_v<decltype(seen), Result<void>>) {
      EXPECT_TRUE(seen);
    } else {
      return std::move(seen).value();
    }
  }

  std::filesystem::path folder_;
  std::unique_ptr<Store> store_;
};

inline auto kinds_of_book() {
  return testing::Values(
      Kind{"file", [](const std::filesystem::path& file) { return open_sqlite(file); }},
      Kind{"memory", [](const std::filesystem::path&) { return open_in_memory(); }},
      Kind{"postgres", [](const std::filesystem::path&) {
             test::PostgresCluster& cluster = test::shared_cluster();
             return open_postgres(cluster.address(cluster.database()));
           }});
}

}  // namespace film::store
