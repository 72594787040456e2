#pragma once

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/text.h"
#include "exchange/layout_json.h"
#include "geometry/box.h"
#include "host/files.h"
#include "layout/problem.h"
#include "workbench/run_demo.h"

/// Layout problems made of the demo vehicle's pieces.
namespace film::bench {

constexpr double kRollWidth = 1524;  // 60 in
constexpr double kGap = 5;           // the shop's setting
constexpr double kMargin = 5;        // kept free along both edges of the roll, for the pinch wheels

struct DemoPieces {
  std::vector<layout::Item> clear;  ///< of the film that most of it is made of
  std::vector<layout::Item> all;    ///< of every film
};

/// The pieces of the demo job, grain along the roll; none when the demo fails, which is told.
inline std::optional<DemoPieces> demo_pieces() {
  namespace fs = std::filesystem;
  const fs::path folder = fs::temp_directory_path() / "filmwright-evidence-layout";
  const auto demo = workbench::run_demo({folder, 1, 1}, {});
  std::optional<DemoPieces> pieces;
  if (demo) {
    pieces.emplace();
  } else {
    std::fprintf(stderr, "%s\n", demo.error().message().c_str());
  }
  for (std::size_t f = 0; demo && f < demo->films.size(); ++f) {
    const std::string& film = demo->films[f].film;
    const auto bytes = host::read_file(folder / (film + "-layout.json"));
    const auto sheet = bytes ? exchange::read_layout_sheet(*bytes)
                             : Result<exchange::LayoutSheet>(Failure(bytes.error()));
    if (!sheet) {
      std::fprintf(stderr, "%s\n", sheet.error().message().c_str());
      pieces.reset();
      break;
    }
    for (const exchange::LaidPiece& piece : sheet->pieces) {
      const layout::Item item{film + " " + piece.item,
                              piece.outline,
                              1,
                              {Angle{0}, Angle::from_degrees(180)},
                              piece.zone};
      if (f == 0) pieces->clear.push_back(item);
      pieces->all.push_back(item);
    }
  }
  std::error_code gone;
  fs::remove_all(folder, gone);
  return pieces;
}

inline layout::Problem on_a_roll(std::vector<layout::Item> items) {
  layout::Problem problem;
  problem.units = "mm";
  problem.strip.width = kRollWidth;
  problem.strip.gap = kGap;
  problem.strip.margins = {kMargin, kMargin, kMargin, kMargin};
  problem.items = std::move(items);
  return problem;
}

/// A body of 105 pieces on a 60 in roll: all of the demo job that the roll takes, and coupons that
/// are cut to try the blade and for repairs.
inline layout::Problem body_of(const DemoPieces& pieces) {
  std::vector<layout::Item> body;
  for (const layout::Item& item : pieces.all) {
    if (bounding_box(item.shape).height() <= kRollWidth - 2 * kMargin) body.push_back(item);
  }
  for (int coupon = 0; body.size() < 105; ++coupon) {
    body.push_back({format("coupon {}", coupon),
                    {{{0, 0}, {150, 0}, {150, 100}, {0, 100}}, {}},
                    1,
                    {Angle{0}, Angle::from_degrees(180)}});
  }
  return on_a_roll(std::move(body));
}

inline std::optional<layout::Problem> demo_body() {
  const auto pieces = demo_pieces();
  if (!pieces) return std::nullopt;
  return body_of(*pieces);
}

}  // namespace film::bench
