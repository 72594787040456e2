#include <array>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "formats/svg_read.h"
#include "geometry/simplify.h"
#include "host/files.h"

// The corpus of drawings, written by hand, is also read by librsvg's renderer (Debian package
// librsvg2-bin) and written again in its own words: all transforms done, arcs as curves, one
// unit for everything. Both readings must show the same lines.
namespace film::formats {
namespace {

std::optional<std::string> by_librsvg(const std::filesystem::path& path) {
  const std::string command = "rsvg-convert -f svg '" + path.string() + "' 2>/dev/null";
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> pipe(popen(command.c_str(), "r"), &pclose);
  if (!pipe) return std::nullopt;
  std::string bytes;
  std::array<char, 4096> buffer{};
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe.get())) {
    bytes.append(buffer.data(), n);
  }
  if (bytes.empty()) return std::nullopt;
  return bytes;
}

double distance_to(const Ring& ring, Vec2 p) {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    nearest = std::min(nearest, distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]));
  }
  return nearest;
}

/// Largest distance of a node of either ring from the other.
double apart(const Ring& a, const Ring& b) {
  double worst = 0;
  for (const Vec2 p : a) worst = std::max(worst, distance_to(b, p));
  for (const Vec2 p : b) worst = std::max(worst, distance_to(a, p));
  return worst;
}

TEST(ReadSvg, AgreesWithLibrsvgOnTheCorpus) {
  const std::filesystem::path corpus(FILM_SOURCE_DIR "/tests/corpus/drawings");
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(corpus)) {
    if (entry.path().extension() != ".svg") continue;
    const auto theirs_bytes = by_librsvg(entry.path());
    if (!theirs_bytes) GTEST_SKIP() << "rsvg-convert (librsvg2-bin) is not there";
    const auto ours = read_svg(*host::read_file(entry.path()));
    DrawingOptions pixels;
    pixels.mm_per_unit = 25.4 / 96;
    const auto theirs = read_svg(*theirs_bytes, pixels);
    ASSERT_TRUE(ours.has_value()) << entry.path() << ours.error().message();
    ASSERT_TRUE(theirs.has_value()) << entry.path() << theirs.error().message();
    ASSERT_EQ(ours->loops.size(), theirs->loops.size()) << entry.path();
    EXPECT_TRUE(ours->loose.empty()) << entry.path();
    for (const DrawnLoop& loop : ours->loops) {
      double best = std::numeric_limits<double>::infinity();
      for (const DrawnLoop& other : theirs->loops) {
        best = std::min(best, apart(loop.points, other.points));
      }
      EXPECT_LT(best, 0.05) << entry.path();  // mm
    }
    ++files;
  }
  EXPECT_GE(files, 20u);
}

}  // namespace
}  // namespace film::formats
