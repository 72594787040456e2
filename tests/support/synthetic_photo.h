#pragma once

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <unistd.h>

#include "base/rng.h"
#include "geometry/polygon.h"
#include "geometry/raster.h"

/// Photographs a table that exists only as numbers: the printed sheets of a marker board, drawn by
/// poppler from the PDF that a person would print, and a template of known outline. Shares no code
/// with the digitiser; a pinhole camera with radial distortion, blur in light, uneven light, a soft
/// shadow and noise.
namespace film::test {

struct SheetOnTable {
  int page = 0;  ///< of the PDF, from 0
  Vec2 at;       ///< middle, mm; table frame, x right and y up
  double turn = 0;
};

struct SceneOnTable {
  std::vector<SheetOnTable> sheets;
  double print_x = 1, print_y = 1;  ///< what the printer made of 1 mm
  std::vector<Polygon> templates;   ///< table frame
  double thickness = 0.2;           ///< mm
  double ground = 0.75;             ///< share of light sent back
  double colour = 0.10;             ///< of the template
};

struct CameraOnTable {
  int width = 4000, height = 3000;
  double focal = 3200;  ///< px
  Vec2 off_centre;      ///< of lens and distortion from the picture's middle, px
  double k1 = 0, k2 = 0;
  Vec2 looks_at;                 ///< table point that shows in the middle
  double distance = 1500;        ///< to it, mm
  double tilt = 0, heading = 0;  ///< from the plumb line; which way it leans, radians
  double roll = 0;               ///< about the view
  double blur = 0.8;             ///< px, standard deviation
  double noise = 2.5;            ///< grey values of 255, standard deviation
  double shade = 0.4;            ///< how much light the shadow takes
  double falloff = 0.25;         ///< how much darker one side is than the other
  std::uint64_t seed = 1;
};

/// Pages of the PDF as grey pictures, by poppler's pdftoppm; empty when it cannot be run.
inline std::vector<GreyRaster> pages_of(const std::string& pdf, int dpi) {
  namespace fs = std::filesystem;
  const fs::path folder = fs::temp_directory_path() / ("film_pages_" + std::to_string(::getpid()));
  fs::create_directories(folder);
  std::ofstream(folder / "board.pdf", std::ios::binary) << pdf;
  const std::string command = "pdftoppm -gray -r " + std::to_string(dpi) + " " +
                              (folder / "board.pdf").string() + " " + (folder / "page").string();
  std::vector<GreyRaster> pages;
  if (std::system(command.c_str()) == 0) {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(folder)) {
      if (entry.path().extension() == ".pgm") files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    for (const fs::path& path : files) {
      std::ifstream file(path, std::ios::binary);
      std::string magic;
      int most = 0;
      GreyRaster page;
      file >> magic >> page.width >> page.height >> most;
      file.get();
      page.values.resize(static_cast<std::size_t>(page.width) *
                         static_cast<std::size_t>(page.height));
      file.read(reinterpret_cast<char*>(page.values.data()),
                static_cast<std::streamsize>(page.values.size()));
      if (magic == "P5" && file) pages.push_back(std::move(page));
    }
  }
  fs::remove_all(folder);
  return pages;
}

/// Tells quickly whether a point lies in a polygon: its edges by strips.
class Cover {
 public:
  explicit Cover(const Polygon& polygon) : box_(bounding_box(polygon)) {
    strips_.resize(static_cast<std::size_t>(box_.height() / kStrip) + 1);
    add(polygon.outer);
    for (const Ring& hole : polygon.holes) add(hole);
  }
  [[nodiscard]] bool has(Vec2 p) const {
    if (!box_.contains(p)) return false;
    bool in = false;
    for (const auto& [a, b] : strips_[strip(p.y)]) {
      if ((a.y <= p.y) == (b.y <= p.y)) continue;
      if (a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) > p.x) in = !in;
    }
    return in;
  }

 private:
  static constexpr double kStrip = 0.5;  // mm
  [[nodiscard]] std::size_t strip(double y) const {
    return std::min(strips_.size() - 1, static_cast<std::size_t>((y - box_.low.y) / kStrip));
  }
  void add(const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = ring[i];
      const Vec2 b = ring[(i + 1) % ring.size()];
      for (std::size_t s = strip(std::min(a.y, b.y)); s <= strip(std::max(a.y, b.y)); ++s) {
        strips_[s].emplace_back(a, b);
      }
    }
  }
  Box box_;
  std::vector<std::vector<std::pair<Vec2, Vec2>>> strips_;
};

/// Takes the photo. `pages` are those of the board, `dpi` their resolution.
class Photographer {
 public:
  Photographer(const SceneOnTable& scene, const CameraOnTable& camera,
               const std::vector<GreyRaster>& pages, double dpi)
      : scene_(scene), camera_(camera), pages_(pages), dots_per_mm_(dpi / 25.4) {
    for (const Polygon& polygon : scene.templates) covers_.emplace_back(polygon);
    for (const auto& sheet : scene.sheets)
      axes_.push_back({std::cos(sheet.turn), std::sin(sheet.turn)});
    // The camera's axes on the table: x right, y down the picture, z away from the camera.
    const double st = std::sin(camera.tilt), ct = std::cos(camera.tilt);
    const Vec2 lean{std::cos(camera.heading), std::sin(camera.heading)};
    view_ = {st * lean.x, st * lean.y, -ct};
    const Vec3 side{lean.y, -lean.x, 0};
    const Vec3 down = cross(view_, side);
    const double sr = std::sin(camera.roll - camera.heading + std::numbers::pi / 2);
    const double cr = std::cos(camera.roll - camera.heading + std::numbers::pi / 2);
    right_ = cr * side + sr * down;
    down_ = cross(view_, right_);
    eye_ = Vec3{camera.looks_at.x, camera.looks_at.y, 0} - camera.distance * view_;
  }

  [[nodiscard]] GreyRaster take() const {
    const int w = camera_.width, h = camera_.height;
    std::vector<float> light;
    light.reserve(static_cast<std::size_t>(w) * static_cast<std::size_t>(h));
    std::vector<Look> above, below;
    look_along(0, above);
    for (int y = 0; y < h; ++y) {
      look_along(y + 1, below);
      for (std::size_t x = 0; x < static_cast<std::size_t>(w); ++x) {
        light.push_back(static_cast<float>(pixel(above[x], above[x + 1], below[x], below[x + 1])));
      }
      std::swap(above, below);
    }
    blur(light);
    return developed(light);
  }

 private:
  /// What a corner of a pixel looks at.
  struct Look {
    Vec2 at;
    bool on_template = false;
    double sent_back = 0;
  };
  void look_along(int y, std::vector<Look>& looks) const {
    looks.clear();
    for (int x = 0; x <= camera_.width; ++x) {
      Look look{on_table(x, y)};
      look.on_template = on_template(look.at);
      look.sent_back = look.on_template ? scene_.colour : paper_or_ground(look.at);
      looks.push_back(look);
    }
  }
  /// Where the pixel's corner looks at the table.
  [[nodiscard]] Vec2 on_table(double u, double v, double height = 0) const {
    const double x = (u - 0.5 * camera_.width - camera_.off_centre.x) / camera_.focal;
    const double y = (v - 0.5 * camera_.height - camera_.off_centre.y) / camera_.focal;
    // Undo r (1 + k1 r^2 + k2 r^4) by Newton's method.
    const double seen = std::hypot(x, y);
    double r = seen;
    for (int k = 0; k < 4; ++k) {
      const double r2 = r * r;
      const double value = r * (1 + r2 * (camera_.k1 + r2 * camera_.k2)) - seen;
      r -= value / (1 + r2 * (3 * camera_.k1 + 5 * r2 * camera_.k2));
    }
    const double undo = seen > 0 ? r / seen : 1;
    const Vec3 ray = view_ + (undo * x) * right_ + (undo * y) * down_;
    const double t = (height - eye_.z) / ray.z;
    return {eye_.x + t * ray.x, eye_.y + t * ray.y};
  }
  /// The table point under a point of the template's face, as the eye sees it.
  [[nodiscard]] Vec2 raised(Vec2 p) const {
    const double share = scene_.thickness / eye_.z;
    return p + share * (Vec2{eye_.x, eye_.y} - p);
  }
  [[nodiscard]] bool on_template(Vec2 p) const {
    for (const Cover& cover : covers_) {
      if (cover.has(raised(p))) return true;
    }
    return false;
  }
  /// Share of light sent back there, without the template.
  [[nodiscard]] double paper_or_ground(Vec2 p) const {
    for (std::size_t k = 0; k < axes_.size(); ++k) {
      const GreyRaster& page = pages_[static_cast<std::size_t>(scene_.sheets[k].page)];
      const Vec2 d = p - scene_.sheets[k].at;
      const double x = dot(axes_[k], d) / scene_.print_x;
      const double y = cross(axes_[k], d) / scene_.print_y;
      const double u = 0.5 * page.width + x * dots_per_mm_ - 0.5;
      const double v = 0.5 * page.height - y * dots_per_mm_ - 0.5;
      if (u < 0 || v < 0 || u >= page.width - 1 || v >= page.height - 1) continue;
      const int i = static_cast<int>(u), j = static_cast<int>(v);
      const double a = u - i, b = v - j;
      const double ink = (1 - b) * ((1 - a) * page.at(i, j) + a * page.at(i + 1, j)) +
                         b * ((1 - a) * page.at(i, j + 1) + a * page.at(i + 1, j + 1));
      return 0.05 + 0.80 * ink / 255;
    }
    return scene_.ground;
  }
  [[nodiscard]] double lit(Vec2 p) const {
    const Vec2 q = p - camera_.looks_at;
    const double even = 1 - camera_.falloff * (0.5 + 0.0006 * (0.8 * q.x + 0.6 * q.y));
    // A soft shadow across one corner of the table: its edge is 60 mm wide.
    const double in = std::clamp((0.6 * q.x - 0.8 * q.y - 150) / 60 + 0.5, 0.0, 1.0);
    return std::max(0.1, even) * (1 - camera_.shade * in);
  }
  [[nodiscard]] double pixel(const Look& a, const Look& b, const Look& c, const Look& d) const {
    const double light = lit(0.25 * (a.at + b.at + c.at + d.at));
    if (a.sent_back == b.sent_back && a.sent_back == c.sent_back && a.sent_back == d.sent_back) {
      return a.sent_back * light;
    }
    constexpr int kFine = 4;
    double sum = 0;
    for (int i = 0; i < kFine; ++i) {
      for (int j = 0; j < kFine; ++j) {
        const double s = (i + 0.5) / kFine, t = (j + 0.5) / kFine;
        const Vec2 p = (1 - t) * ((1 - s) * a.at + s * b.at) + t * ((1 - s) * c.at + s * d.at);
        sum += on_template(p) ? scene_.colour : paper_or_ground(p);
      }
    }
    return sum / (kFine * kFine) * light;
  }

  void blur(std::vector<float>& light) const {
    const int w = camera_.width, h = camera_.height;
    const int reach = static_cast<int>(std::ceil(3 * camera_.blur));
    std::vector<float> kernel;
    float all = 0;
    for (int k = -reach; k <= reach; ++k) {
      const double z = k / std::max(camera_.blur, 1e-6);
      kernel.push_back(static_cast<float>(std::exp(-0.5 * z * z)));
      all += kernel.back();
    }
    for (float& k : kernel) k /= all;
    std::vector<float> line(static_cast<std::size_t>(std::max(w, h)));
    const auto pass = [&](std::size_t start, std::size_t stride, int n) {
      for (int i = 0; i < n; ++i) {
        float sum = 0;
        for (int k = -reach; k <= reach; ++k) {
          const auto j = static_cast<std::size_t>(std::clamp(i + k, 0, n - 1));
          sum += kernel[static_cast<std::size_t>(k + reach)] * light[start + j * stride];
        }
        line[static_cast<std::size_t>(i)] = sum;
      }
      for (int i = 0; i < n; ++i) {
        light[start + static_cast<std::size_t>(i) * stride] = line[static_cast<std::size_t>(i)];
      }
    };
    for (int y = 0; y < h; ++y) {
      pass(static_cast<std::size_t>(y) * static_cast<std::size_t>(w), 1, w);
    }
    for (int x = 0; x < w; ++x) pass(static_cast<std::size_t>(x), static_cast<std::size_t>(w), h);
  }

  /// Grey values by the sRGB curve, with noise.
  [[nodiscard]] GreyRaster developed(const std::vector<float>& light) const {
    GreyRaster photo{camera_.width, camera_.height, std::vector<std::uint8_t>(light.size())};
    Rng rng(camera_.seed);
    constexpr std::size_t kSteps = 16384;
    std::vector<double> curve;
    for (std::size_t k = 0; k <= kSteps; ++k) {
      const double v = static_cast<double>(k) / kSteps;
      curve.push_back(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055));
    }
    for (std::size_t i = 0; i < light.size(); ++i) {
      const double v = std::clamp<double>(static_cast<double>(light[i]), 0, 1);
      const double grey = curve[static_cast<std::size_t>(v * kSteps + 0.5)];
      double bell = -6;  // twelve even numbers make nearly a normal one; four 16-bit parts a draw
      for (int k = 0; k < 3; ++k) {
        for (std::uint64_t bits = rng.next(), part = 0; part < 4; ++part, bits >>= 16) {
          bell += static_cast<double>(bits & 0xFFFF) / 65536;
        }
      }
      photo.values[i] =
          static_cast<std::uint8_t>(std::clamp(grey + camera_.noise * bell + 0.5, 0.0, 255.0));
    }
    return photo;
  }

  const SceneOnTable& scene_;
  const CameraOnTable& camera_;
  const std::vector<GreyRaster>& pages_;
  double dots_per_mm_;
  std::vector<Cover> covers_;
  std::vector<Vec2> axes_;  // of the sheets
  Vec3 view_, right_, down_, eye_;
};

// ---- known templates

/// A closed curve r(angle) about a middle.
template <class Radius>
Ring round_shape(Vec2 middle, Radius radius, int points = 4000) {
  Ring ring;
  for (int i = 0; i < points; ++i) {
    const double a = 2 * std::numbers::pi * i / points;
    ring.push_back(middle + radius(a) * Vec2{std::cos(a), std::sin(a)});
  }
  return ring;
}

/// A rectangle with rounded corners, turned.
inline Ring rounded_box(Vec2 middle, double width, double height, double radius, double turn = 0) {
  Ring ring;
  const Vec2 centres[] = {{width / 2 - radius, height / 2 - radius},
                          {-width / 2 + radius, height / 2 - radius},
                          {-width / 2 + radius, -height / 2 + radius},
                          {width / 2 - radius, -height / 2 + radius}};
  for (int q = 0; q < 4; ++q) {
    for (int i = 0; i <= 60; ++i) {
      const double a = (q + i / 60.0) * std::numbers::pi / 2;
      ring.push_back(centres[q] + radius * Vec2{std::cos(a), std::sin(a)});
    }
  }
  return film::apply(Placement{turn, middle}, ring);
}

/// Five templates about 1 m long: a plate with openings, a free form, a wheel arch, a long oval
/// with a slot, and one of sharp corners.
inline std::vector<Polygon> known_templates() {
  std::vector<Polygon> all;
  const auto reversed = [](Ring ring) {
    std::reverse(ring.begin(), ring.end());
    return ring;
  };
  all.push_back(*make_polygon(rounded_box({0, 0}, 960, 420, 45, 0.03),
                              {reversed(rounded_box({-250, 40}, 160, 90, 12, 0.4)),
                               reversed(round_shape({220, -30}, [](double) { return 62.0; }))}));
  all.push_back(*make_polygon(round_shape({0, 0}, [](double a) {
    const double oval = 1 / std::hypot(std::cos(a) / 480, std::sin(a) / 215);
    return oval * (1 + 0.06 * std::sin(3 * a + 0.4) + 0.02 * std::cos(7 * a));
  })));
  Ring arch{{-480, -210}, {-245, -210}};
  for (int i = 0; i <= 800; ++i) {
    const double a = std::numbers::pi * (1 - i / 800.0);
    arch.push_back(Vec2{0, -210} + 245 * Vec2{std::cos(a), std::sin(a)});
  }
  for (const Vec2 p : {Vec2{480, -210}, Vec2{470, 60}}) arch.push_back(p);
  for (int i = 1; i < 400; ++i) {
    const double t = i / 400.0;
    arch.push_back({470 - 950 * t, 60 + 600 * t * (1 - t) - 40 * t});
  }
  all.push_back(*make_polygon(std::move(arch)));
  all.push_back(*make_polygon(
      round_shape({0, 0},
                  [](double a) { return 1 / std::hypot(std::cos(a) / 500, std::sin(a) / 190); }),
      {reversed(rounded_box({60, 10}, 420, 40, 20, -0.05))}));
  all.push_back(*make_polygon({{-480, -200},
                               {300, -215},
                               {480, 20},
                               {250, 60},
                               {210, 205},
                               {-100, 180},
                               {-160, 90},
                               {-300, 200},
                               {-470, 120}}));
  return all;
}

/// Eight sheets in a ring about 1.6 x 1.1 m, none quite straight.
inline std::vector<SheetOnTable> ring_of_sheets() {
  return {{0, {-640, 405}, 0.03},  {1, {-215, 412}, -0.02}, {2, {210, 408}, 1.60},
          {3, {640, 402}, 0.05},   {4, {645, -398}, -0.04}, {5, {220, -410}, 3.10},
          {6, {-210, -405}, 0.02}, {7, {-645, -400}, -1.54}};
}

/// Four ways to hold the camera: from straight above to 25 degrees aslant, each with a lens of its
/// own.
inline std::vector<CameraOnTable> known_cameras() {
  std::vector<CameraOnTable> all(4);
  all[0].distance = 1560;
  all[0].k1 = -0.06;
  all[0].k2 = 0.02;
  all[1].distance = 1750;
  all[1].focal = 3450;
  all[1].tilt = 0.20;
  all[1].heading = 0.7;
  all[1].roll = 0.05;
  all[1].k1 = 0.04;
  all[1].k2 = -0.03;
  all[1].off_centre = {18, -12};
  all[2].distance = 1700;
  all[2].focal = 2900;
  all[2].tilt = 0.35;
  all[2].heading = -1.4;
  all[2].roll = -0.04;
  all[2].k1 = -0.12;
  all[2].k2 = 0.05;
  all[2].off_centre = {-25, 14};
  all[3].distance = 1900;
  all[3].focal = 3600;
  all[3].tilt = 0.44;
  all[3].heading = 2.6;
  all[3].roll = 0.1;
  all[3].k1 = 0.08;
  all[3].off_centre = {10, 20};
  for (std::size_t i = 0; i < all.size(); ++i) all[i].seed = i + 1;
  return all;
}

// ---- how far two outlines lie apart

struct Apart {
  double p95 = 0, worst = 0;  ///< mm, after the rigid motion that fits best
};

/// Lays `found` on `truth` by turn and move (nearest points, repeatedly), then measures both ways.
inline Apart apart(const Polygon& found, const Polygon& truth) {
  const auto dense = [](const Polygon& polygon) {
    std::vector<Ring> rings{polygon.outer};
    rings.insert(rings.end(), polygon.holes.begin(), polygon.holes.end());
    std::vector<Vec2> points;
    for (const Ring& ring : rings) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i], b = ring[(i + 1) % ring.size()];
        const int n = std::max(1, static_cast<int>(std::ceil(distance(a, b) / 1.0)));
        for (int k = 0; k < n; ++k) points.push_back(a + (k / static_cast<double>(n)) * (b - a));
      }
    }
    return points;
  };
  const auto nearest = [](const Polygon& polygon, Vec2 p) {
    Vec2 best;
    double least = 1e300;
    const auto try_ring = [&](const Ring& ring) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i], d = ring[(i + 1) % ring.size()] - a;
        const double t = std::clamp(dot(p - a, d) / std::max(squared_length(d), 1e-18), 0.0, 1.0);
        const Vec2 q = a + t * d;
        if (squared_length(p - q) < least) {
          least = squared_length(p - q);
          best = q;
        }
      }
    };
    try_ring(polygon.outer);
    for (const Ring& hole : polygon.holes) try_ring(hole);
    return best;
  };
  Polygon laid = found;
  const auto step = [&](std::size_t every) {
    const std::vector<Vec2> points = dense(laid);
    std::vector<Vec2> from, to;
    Vec2 a, b;
    for (std::size_t i = 0; i < points.size(); i += every) {
      from.push_back(points[i]);
      to.push_back(nearest(truth, points[i]));
      a += from.back();
      b += to.back();
    }
    a = a / static_cast<double>(from.size());
    b = b / static_cast<double>(from.size());
    double c = 0, s = 0;
    for (std::size_t i = 0; i < from.size(); ++i) {
      c += dot(from[i] - a, to[i] - b);
      s += cross(from[i] - a, to[i] - b);
    }
    Placement motion{std::atan2(s, c), {}};
    motion.move = b - film::apply(motion, a);
    laid = film::apply(motion, laid);
    return std::abs(motion.turn) * 500 + length(motion.move);
  };
  // The outlines are the same way up but for some degrees: middles first.
  laid =
      film::apply(Placement{0, bounding_box(truth).centre() - bounding_box(laid).centre()}, laid);
  for (int k = 0; k < 60 && step(12) > 1e-4; ++k) {
  }
  std::vector<double> off;
  for (const Vec2 p : dense(laid)) off.push_back(distance(p, nearest(truth, p)));
  for (const Vec2 p : dense(truth)) off.push_back(distance(p, nearest(laid, p)));
  std::sort(off.begin(), off.end());
  return {off[static_cast<std::size_t>(0.95 * static_cast<double>(off.size() - 1))], off.back()};
}

}  // namespace film::test
