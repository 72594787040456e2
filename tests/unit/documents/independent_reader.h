#pragma once

#include <array>
#include <cstdio>
#include <filesystem>
#include <string>

#include <gtest/gtest.h>

#include "base/text.h"
#include "host/files.h"

namespace film::documents {

// What programs of others find in a PDF: poppler's pdftotext, pdfinfo and pdftoppm, zbar's
// zbarimg.

inline std::string said_by(const std::string& command) {
  FILE* pipe = popen(command.c_str(), "r");
  std::string text;
  std::array<char, 4096> block{};
  while (const std::size_t count = fread(block.data(), 1, block.size(), pipe)) {
    text.append(block.data(), count);
  }
  EXPECT_EQ(pclose(pipe), 0) << command;
  return text;
}

inline std::string kept_as_file(const std::string& pdf) {
  const auto* test = testing::UnitTest::GetInstance()->current_test_info();
  const auto path = std::filesystem::path(testing::TempDir()) /
                    format("{}_{}.pdf", test->test_suite_name(), test->name());
  EXPECT_TRUE(host::write_file(path, pdf));
  return path.string();
}

inline std::string text_of(const std::string& pdf) {
  return said_by(format("pdftotext -layout {} -", kept_as_file(pdf)));
}

/// "Pages:           2", "Page size:       595.276 x 841.89 pts (A4)", ...
inline std::string info_of(const std::string& pdf) {
  return said_by(format("pdfinfo {}", kept_as_file(pdf)));
}

/// The contents of all QR codes on the first page, a line each.
inline std::string codes_of(const std::string& pdf) {
  const std::string file = kept_as_file(pdf);
  said_by(format("pdftoppm -r 150 -f 1 -l 1 -singlefile -png {0} {0}", file));
  return said_by(format("zbarimg --quiet --nodbus --raw -Sdisable -Sqrcode.enable {}.png", file));
}

inline void expect_words(const std::string& text, std::initializer_list<const char*> words) {
  for (const char* word : words) {
    EXPECT_NE(text.find(word), std::string::npos) << word << "\n" << text;
  }
}

}  // namespace film::documents
