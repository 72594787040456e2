#pragma once

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include <unistd.h>

#include "cutting/machine_frame.h"
#include "cutting/plan.h"
#include "geometry/box.h"
#include "support/blade.h"

/// Has the independent HP-GL program of the Debian package hp2xx draw a plot file, and compares its
/// picture with the plan.
namespace film::test {

/// A bitmap of one bit a pixel, row 0 at the top.
struct Bitmap {
  int width = 0;
  int height = 0;
  std::string rows;

  [[nodiscard]] bool at(int x, int y) const {
    if (x < 0 || y < 0 || x >= width || y >= height) return false;
    const std::size_t stride = (static_cast<std::size_t>(width) + 7) / 8;
    const auto byte = static_cast<unsigned char>(
        rows[static_cast<std::size_t>(y) * stride + static_cast<std::size_t>(x) / 8]);
    return ((byte >> (7 - x % 8)) & 1) != 0;
  }
};

/// A raw portable bitmap (P4). Source of the form: the pbm(5) manual page.
inline std::optional<Bitmap> read_pbm(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::string magic;
  Bitmap map;
  if (!(file >> magic >> map.width >> map.height) || magic != "P4") return std::nullopt;
  file.get();
  const auto stride = static_cast<std::size_t>((map.width + 7) / 8);
  map.rows.resize(stride * static_cast<std::size_t>(map.height));
  if (!file.read(map.rows.data(), static_cast<std::streamsize>(map.rows.size())))
    return std::nullopt;
  return map;
}

/// How a picture of hp2xx maps to plotter units.
class Hp2xx {
 public:
  /// `folder` takes the files, in a part of its own for each process, since tests run side by side.
  /// A square is drawn first, to find where on its bitmap hp2xx puts the
  /// middle of a line and how wide its thinnest pen is.
  Hp2xx(const std::filesystem::path& folder, int dpi)
      : folder_(folder / std::to_string(::getpid())), dpi_(dpi) {
    std::filesystem::create_directories(folder_);
    const auto map =
        draw("IN;SP1;PU0,0;PD4000,0,4000,4000,0,4000,0,0;PU;SP0;", {{0, 0}, {4000, 4000}});
    if (!map) return;
    int left = 0;
    while (map->at(left, map->height / 2)) ++left;
    int bottom = 0;
    while (!map->at(map->width / 2, map->height - 1 - bottom)) ++bottom;
    int thick = 0;
    while (map->at(map->width / 2, map->height - 1 - bottom - thick)) ++thick;
    column_ = (left - 1) / 2.0;
    row_ = bottom + (thick - 1) / 2.0;
    half_pen_ = std::max(left, thick) / 2.0;
    ready_ = left > 0 && left < 20 && thick > 0 && thick < 20;
  }

  ~Hp2xx() { std::filesystem::remove_all(folder_); }
  Hp2xx(const Hp2xx&) = delete;
  Hp2xx& operator=(const Hp2xx&) = delete;

  [[nodiscard]] bool ready() const { return ready_; }
  /// Plotter units in a pixel.
  [[nodiscard]] double pixel() const { return 1016.0 / dpi_; }
  /// Half the pen's width, plotter units.
  [[nodiscard]] double half_pen() const { return half_pen_ * pixel(); }

  /// The window (plotter units) of a plot file as a bitmap.
  std::optional<Bitmap> draw(const std::string& bytes, const Box& window) {
    const auto plot = folder_ / "check.plt";
    const auto picture = folder_ / "check.pbm";
    std::filesystem::remove(picture);
    std::ofstream(plot, std::ios::binary) << bytes;
    std::ostringstream command;
    command << "hp2xx -q -m pbm -t -N -d " << dpi_ << " -p 1 -c 1 -x " << window.low.x << " -X "
            << window.high.x << " -y " << window.low.y << " -Y " << window.high.y << " -s "
            << (folder_ / "check.swp") << " -f " << picture << " " << plot << " >"
            << (folder_ / "check.log") << " 2>&1";
    if (std::system(command.str().c_str()) != 0) return std::nullopt;
    return read_pbm(picture);
  }

  /// Middle of a pixel in plotter units.
  [[nodiscard]] Vec2 place(int x, int y, const Bitmap& map, const Box& window) const {
    return window.low + pixel() * Vec2{x - column_, map.height - 1 - y - row_};
  }
  /// True when there is ink within a pixel of a place.
  [[nodiscard]] bool inked(Vec2 p, const Bitmap& map, const Box& window) const {
    const Vec2 at = (p - window.low) / pixel();
    const int x = static_cast<int>(std::lround(at.x + column_));
    const int y = map.height - 1 - static_cast<int>(std::lround(at.y + row_));
    for (int dx = -1; dx <= 1; ++dx) {
      for (int dy = -1; dy <= 1; ++dy) {
        if (map.at(x + dx, y + dy)) return true;
      }
    }
    return false;
  }

 private:
  std::filesystem::path folder_;
  int dpi_;
  double column_ = 0;
  double row_ = 0;
  double half_pen_ = 0;
  bool ready_ = false;
};

/// What the comparison found. Lengths in mm.
struct PictureCheck {
  bool drawn = false;      ///< hp2xx ran and gave a picture
  std::size_t pixels = 0;  ///< black ones
  double stray = 0;        ///< furthest that ink reaches beyond half a pen from the plan
  double missing = 0;      ///< length of the plan that is not inked
  double resolution = 0;   ///< size of a pixel
};

/// Furthest that ink reaches beyond half a pen from the plan, mm; counts the black pixels.
inline double ink_beyond(const Hp2xx& other, const Bitmap& map, const Box& window,
                         const std::vector<Polyline>& plan, std::size_t& pixels) {
  SegmentGrid lines(other.half_pen() + 20 * other.pixel());
  for (const Polyline& stroke : plan) lines.add(stroke, false);
  double most = 0;
  const std::size_t stride = (static_cast<std::size_t>(map.width) + 7) / 8;
  for (std::size_t byte = 0; byte < stride * static_cast<std::size_t>(map.height); ++byte) {
    if (map.rows[byte] == 0) continue;
    const int row = static_cast<int>(byte / stride);
    for (int bit = 0; bit < 8; ++bit) {
      const int column = static_cast<int>(8 * (byte % stride)) + bit;
      if (!map.at(column, row)) continue;
      ++pixels;
      const double away = lines.distance_to(other.place(column, row, map, window));
      most = std::max(most, std::fmin(away, 1e6) - other.half_pen());
    }
  }
  return most / formats::kHpglUnitsPerMm;
}

/// Length of the plan without ink within a pixel, mm.
inline double plan_without_ink(const Hp2xx& other, const Bitmap& map, const Box& window,
                               const std::vector<Polyline>& plan) {
  double missing = 0;
  for (const Polyline& stroke : plan) {
    for (std::size_t i = 1; i < stroke.size(); ++i) {
      const double side = distance(stroke[i - 1], stroke[i]);
      const int steps = 1 + static_cast<int>(side / other.pixel());
      for (int k = 0; k <= steps; ++k) {
        const double t = static_cast<double>(k) / steps;
        const Vec2 p = stroke[i - 1] + t * (stroke[i] - stroke[i - 1]);
        if (!other.inked(p, map, window)) missing += side / steps;
      }
    }
  }
  return missing / formats::kHpglUnitsPerMm;
}

/// A part of a plot file and what was planned for it, in plotter units, not rounded.
struct PlotPart {
  std::string bytes;
  std::vector<Polyline> strokes;
};

/// The file as one part, or, in the absolute form, whose strokes stand alone, a part for each
/// frame: a long roll in one picture fine enough would not fit the memory.
inline std::vector<PlotPart> parts_of(const std::string& bytes, const cutting::CutPlan& plan,
                                      const cutting::MachineProfile& profile) {
  const bool split = profile.coordinates == formats::HpglCoordinates::absolute && plan.frames > 1;
  std::vector<PlotPart> parts(split ? plan.frames : 1);
  const Vec2 origin = cutting::MachineFrame(profile, plan.media).to_roll({0, 0});
  std::size_t next = bytes.find("\nPU");  // of the stroke's own first instruction
  const auto add = [&](const cutting::Stroke& stroke, PlotPart& part) {
    Polyline units;
    for (const Vec2 p : stroke.axis) units.push_back(formats::kHpglUnitsPerMm * (p - origin));
    part.strokes.push_back(std::move(units));
    if (!split) return;
    const std::size_t end = bytes.find("\nPU", next + 1);
    if (part.bytes.empty()) part.bytes = "IN;SP1;";
    part.bytes += bytes.substr(next, end - next);
    next = end;
  };
  if (!plan.alignment.axis.empty()) add(plan.alignment, parts[0]);
  for (const auto& contour : plan.contours) {
    for (const auto& stroke : contour.strokes) add(stroke, parts[split ? contour.frame : 0]);
  }
  if (!split) parts[0].bytes = bytes;
  return parts;
}

/// Draws the file and compares the pictures with the planned way of the knife's axis. The machine
/// must not turn or mirror (its x runs along the roll).
inline PictureCheck compare_with_hp2xx(const std::string& bytes, const cutting::CutPlan& plan,
                                       const cutting::MachineProfile& profile,
                                       const std::filesystem::path& folder, int dpi) {
  PictureCheck check;
  Hp2xx other(folder, dpi);
  if (!other.ready()) return check;
  check.resolution = other.pixel() / formats::kHpglUnitsPerMm;
  for (const PlotPart& part : parts_of(bytes, plan, profile)) {
    // hp2xx draws all that it is given even when its window is set smaller.
    Box window;
    for (const Polyline& stroke : part.strokes) window.add(bounding_box(stroke));
    window = {{std::floor(window.low.x) - 40, std::floor(window.low.y) - 40},
              {std::ceil(window.high.x) + 40, std::ceil(window.high.y) + 40}};
    const auto map = other.draw(part.bytes, window);
    if (!map) return check;
    check.stray =
        std::max(check.stray, ink_beyond(other, *map, window, part.strokes, check.pixels));
    check.missing += plan_without_ink(other, *map, window, part.strokes);
  }
  check.drawn = true;
  return check;
}

}  // namespace film::test
