// Backups that come back whole or not at all; everything in open forms.

#include "workbench/back_up.h"

#include <filesystem>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>
#include <unistd.h>

#include "formats/zip.h"
#include "host/files.h"
#include "store/store.h"
#include "workbench/seed_demo.h"

namespace film::workbench {
namespace {

class BackUp : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::path(testing::TempDir()) / ("back up " + std::to_string(getpid()));
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  /// A shop with a job's history and a kept file, and its backup.
  std::filesystem::path backed_up() const {
    const auto workbench = open_workbench(folder_ / "shop").value();
    EXPECT_TRUE(workbench->store().change([](store::Book& book) {
      book.put_blob(std::string(100000, 'b'));
      shop::Settings settings;
      settings.name = "Example shop";
      settings.piece_gap = Mm{0.1 + 0.2};
      book.put(settings);
    }));
    EXPECT_TRUE(back_up_book(*workbench, folder_ / "backup.db"));
    return folder_ / "backup.db";
  }

  std::filesystem::path folder_;
};

TEST_F(BackUp, ARestoredBookIsTheOneThatWasBackedUp) {
  const auto backup = backed_up();
  ASSERT_TRUE(restore_book(backup, folder_ / "again"));
  const auto again = open_workbench(folder_ / "again").value();
  EXPECT_TRUE(check_book(*again));
  EXPECT_EQ(again->store().look([](store::Book& book) { return book.settings()->name; }).value(),
            "Example shop");
}

TEST_F(BackUp, NothingIsOverwritten) {
  const auto backup = backed_up();
  EXPECT_EQ(restore_book(backup, folder_ / "shop").error().code, ErrorCode::conflict);
  EXPECT_EQ(restore_book(folder_ / "none.db", folder_ / "again").error().code,
            ErrorCode::not_found);
}

TEST_F(BackUp, AHalfBackupLeavesNoBookBehind) {
  const auto backup = backed_up();
  const std::string whole = host::read_file(backup).value();
  for (const std::size_t kept :
       {whole.size() / 2, whole.size() - 4096, std::size_t{100}, std::size_t{0}}) {
    ASSERT_TRUE(host::write_file(backup, whole.substr(0, kept)));
    const auto refused = restore_book(backup, folder_ / "again");
    ASSERT_FALSE(refused) << kept;
    EXPECT_FALSE(refused.error().what.empty());
    EXPECT_FALSE(std::filesystem::exists(folder_ / "again" / "book.db"));
    EXPECT_FALSE(std::filesystem::exists(folder_ / "again" / "book.restoring"));
  }
  // and what a kill left half-copied is no hindrance
  ASSERT_TRUE(host::write_file(backup, whole));
  std::filesystem::create_directories(folder_ / "again");
  ASSERT_TRUE(host::write_file(folder_ / "again" / "book.restoring", whole.substr(0, 5000)));
  EXPECT_TRUE(restore_book(backup, folder_ / "again"));
}

TEST_F(BackUp, TheExportHoldsEveryTableAndKeptFileAndNoPassword) {
  backed_up();
  const auto workbench = open_workbench(folder_ / "shop").value();
  const auto zip = export_book(*workbench);
  ASSERT_TRUE(zip) << zip.error().message();
  const auto entries = formats::read_zip(*zip, "export.zip").value();
  bool settings = false;
  bool kept = false;
  for (const auto& [name, bytes] : entries) {
    EXPECT_EQ(name.find("passwords"), std::string::npos);
    EXPECT_EQ(name.find("sessions"), std::string::npos);
    if (name == "tables/settings.jsonl") {
      const auto row = nlohmann::json::parse(bytes);
      EXPECT_EQ(row.at("name"), "Example shop");
      EXPECT_EQ(row.at("piece_gap").get<double>(), 0.1 + 0.2);  // to the last bit
      settings = true;
    }
    kept = kept || (name.rfind("kept/", 0) == 0 && bytes == std::string(100000, 'b'));
  }
  EXPECT_TRUE(settings);
  EXPECT_TRUE(kept);
}

}  // namespace
}  // namespace film::workbench
