#include "formats/zip.h"

#include <gtest/gtest.h>

namespace film::formats {
namespace {

std::vector<ZipEntry> sample() {
  return {{"a.json", "{}"}, {"deep/b.txt", std::string(5000, 'b')}, {"empty", ""}};
}

void put16(std::string& bytes, std::size_t at, unsigned value) {
  bytes[at] = static_cast<char>(value & 0xFF);
  bytes[at + 1] = static_cast<char>(value >> 8 & 0xFF);
}
void put32(std::string& bytes, std::size_t at, unsigned value) {
  put16(bytes, at, value & 0xFFFF);
  put16(bytes, at + 2, value >> 16);
}

/// Renames an entry in both places where a zip names it.
std::string renamed(std::string bytes, const std::string& from, const std::string& to) {
  for (std::size_t at = bytes.find(from); at != std::string::npos; at = bytes.find(from, at + 1)) {
    bytes.replace(at, from.size(), to);
  }
  return bytes;
}

// Offsets in a central directory header: PKWARE APPNOTE.TXT 6.3.10, section 4.3.12.
std::size_t directory_of(const std::string& bytes) { return bytes.find("PK\x01\x02"); }

TEST(Zip, ReadsBackWhatItWrote) {
  const auto read = read_zip(write_zip(sample()), "x.zip");
  ASSERT_TRUE(read.has_value()) << read.error().message();
  EXPECT_EQ(*read, sample());
  EXPECT_EQ(write_zip(sample()), write_zip(sample()));
}

TEST(Zip, RefusesNamesThatLeadElsewhere) {
  const std::string good = write_zip(std::vector<ZipEntry>{{"ab/cd.e", "x"}});
  for (const char* bad :
       {"../cd.e", "/b/cd.e", "ab\\cd.e", "a:/cd.e", "ab/.//e", "ab//d.e", "ab/../e"}) {
    const auto read = read_zip(renamed(good, "ab/cd.e", bad), "x.zip");
    ASSERT_FALSE(read.has_value()) << bad;
    EXPECT_EQ(read.error().code, ErrorCode::invalid_input);
    EXPECT_TRUE(read.error().where.starts_with("x.zip entry ")) << read.error().message();
  }
}

TEST(Zip, RefusesTwoEntriesOfOneName) {
  const std::string good = write_zip(std::vector<ZipEntry>{{"abc", "x"}, {"xyz", "y"}});
  EXPECT_FALSE(read_zip(renamed(good, "xyz", "ABC"), "x.zip").has_value());
}

TEST(Zip, RefusesABombBeforeUnpackingIt) {
  const std::string bomb =
      write_zip(std::vector<ZipEntry>{{"bomb", std::string(20'000'000, '\0')}});
  const auto by_ratio = read_zip(bomb, "x.zip");
  ASSERT_FALSE(by_ratio.has_value());
  EXPECT_EQ(by_ratio.error().code, ErrorCode::too_large);
  ZipLimits limits;
  limits.entry_bytes = 4000;
  EXPECT_EQ(read_zip(write_zip(sample()), "x.zip", limits).error().code, ErrorCode::too_large);
  limits = {};
  limits.all_bytes = 5001;
  EXPECT_EQ(read_zip(write_zip(sample()), "x.zip", limits).error().code, ErrorCode::too_large);
  limits = {};
  limits.entries = 2;
  EXPECT_EQ(read_zip(write_zip(sample()), "x.zip", limits).error().code, ErrorCode::too_large);
}

TEST(Zip, AnEntryThatStatesLessThanItHoldsIsDamaged) {
  std::string lying = write_zip(std::vector<ZipEntry>{{"bomb", std::string(3'000'000, '\0')}});
  put32(lying, directory_of(lying) + 24, 1000);  // uncompressed size
  put32(lying, 22, 1000);
  const auto read = read_zip(lying, "x.zip");
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().code, ErrorCode::invalid_input) << read.error().message();
}

TEST(Zip, RefusesEncryptedEntriesAndUnknownPacking) {
  std::string encrypted = write_zip(std::vector<ZipEntry>{{"a", "secret secret secret"}});
  put16(encrypted, directory_of(encrypted) + 8, 1);  // general purpose bit 0
  put16(encrypted, 6, 1);
  const auto locked = read_zip(encrypted, "x.zip");
  ASSERT_FALSE(locked.has_value());
  EXPECT_EQ(locked.error().code, ErrorCode::unsupported) << locked.error().message();
  std::string odd = write_zip(std::vector<ZipEntry>{{"a", "x"}});
  put16(odd, directory_of(odd) + 10, 99);
  put16(odd, 8, 99);
  EXPECT_FALSE(read_zip(odd, "x.zip").has_value());
}

TEST(Zip, EveryFlippedByteIsRefusedOrChangesNothingThatIsRead) {
  const std::string good = write_zip(sample());
  std::size_t refused = 0;
  for (std::size_t i = 0; i < good.size(); ++i) {
    std::string bad = good;
    bad[i] = static_cast<char>(bad[i] ^ 0x41);
    const auto read = read_zip(bad, "x.zip");
    if (!read) {
      ++refused;
      continue;
    }
    ASSERT_EQ(read->size(), 3U) << i;
    for (std::size_t e = 0; e < 3; ++e) EXPECT_EQ((*read)[e].bytes, sample()[e].bytes) << i;
  }
  EXPECT_GT(refused, good.size() / 2);
}

TEST(Zip, ACutFileIsNoZip) {
  const std::string good = write_zip(sample());
  for (std::size_t size = 0; size < good.size(); ++size) {
    EXPECT_FALSE(read_zip(good.substr(0, size), "x.zip").has_value()) << size;
  }
}

}  // namespace
}  // namespace film::formats
