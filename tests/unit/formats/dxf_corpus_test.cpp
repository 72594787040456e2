#include <algorithm>
#include <filesystem>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "formats/dxf_read.h"
#include "formats/svg_read.h"
#include "geometry/simplify.h"
#include "host/files.h"

// The DXF files of the corpus were written by other programs of Debian: librsvg (rsvg-convert -f
// eps) and pstoedit 3.78 (-f dxf_s:-mm, lines and splines) from the hand-written SVG of the same
// name. Both must show the same lines, wherever on the page.
namespace film::formats {
namespace {

double distance_to(const Ring& ring, Vec2 p) {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    nearest = std::min(nearest, distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]));
  }
  return nearest;
}

double apart(const Ring& a, const Ring& b) {
  double worst = 0;
  for (const Vec2 p : a) worst = std::max(worst, distance_to(b, p));
  for (const Vec2 p : b) worst = std::max(worst, distance_to(a, p));
  return worst;
}

/// Moves the loops so that the box round all of them starts at the origin.
void align(DrawnLoops& drawn) {
  Box box;
  for (const DrawnLoop& loop : drawn.loops) box.add(bounding_box(std::span(loop.points)));
  for (DrawnLoop& loop : drawn.loops) {
    for (Vec2& p : loop.points) p -= box.low;
  }
}

TEST(ReadDxf, AgreesWithTheSvgReaderOnFilesOfAnotherProgram) {
  const std::filesystem::path corpus(FILM_SOURCE_DIR "/tests/corpus/drawings");
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(corpus)) {
    if (entry.path().extension() != ".dxf") continue;
    auto drawing = entry.path();
    auto dxf = read_dxf(*host::read_file(entry.path()));
    auto svg = read_svg(*host::read_file(drawing.replace_extension(".svg")));
    ASSERT_TRUE(dxf.has_value()) << entry.path() << dxf.error().message();
    ASSERT_TRUE(svg.has_value()) << drawing;
    ASSERT_EQ(dxf->loops.size(), svg->loops.size()) << entry.path();
    align(*dxf);
    align(*svg);
    for (const DrawnLoop& loop : svg->loops) {
      double best = std::numeric_limits<double>::infinity();
      for (const DrawnLoop& other : dxf->loops) {
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
