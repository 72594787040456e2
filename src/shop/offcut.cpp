#include "shop/offcut.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

#include "base/text.h"
#include "shop/day.h"
#include "shop/stock_ledger.h"

namespace film::shop {
namespace {

constexpr double kCell = 5;      ///< mm
constexpr double kTouch = 1e-6;  ///< mm; an edge along the side of a cell does not enter it
constexpr std::size_t kMostRests = 24;

/// Whether the segment comes into the box (Liang and Barsky's clipping).
bool enters(Vec2 a, Vec2 b, const Box& box) {
  const Vec2 d = b - a;
  double from = 0;
  double to = 1;
  const std::array<std::array<double, 2>, 4> sides{{{-d.x, a.x - box.low.x},
                                                    {d.x, box.high.x - a.x},
                                                    {-d.y, a.y - box.low.y},
                                                    {d.y, box.high.y - a.y}}};
  for (const auto& [p, q] : sides) {
    if (p == 0) {
      if (q < 0) return false;
    } else if (p < 0) {
      from = std::max(from, q / p);
    } else {
      to = std::min(to, q / p);
    }
  }
  return from <= to;
}

/// Cells of film, free until something is found in them.
class Grid {
 public:
  explicit Grid(const Box& box)
      : low_(box.low),
        columns_(static_cast<std::size_t>(box.width() / kCell + kTouch)),
        rows_(static_cast<std::size_t>(box.height() / kCell + kTouch)),
        taken_(columns_ * rows_, 0) {}

  /// Takes every cell that the rings of the polygon come nearer to than `margin`.
  void take_edges(const Polygon& polygon, double margin) {
    take_edges(polygon.outer, margin);
    for (const Ring& hole : polygon.holes) take_edges(hole, margin);
  }

  /// Takes the cells whose middle is on that side of the polygon, row by row.
  void take_area(const Polygon& polygon, bool inside) {
    const Box box = bounding_box(polygon);
    for (std::size_t row = 0; row < rows_; ++row) {
      const double y = low_.y + (static_cast<double>(row) + 0.5) * kCell;
      if (inside && (y < box.low.y || y > box.high.y)) continue;
      std::vector<double> crossings = crossings_at(polygon, y);
      std::size_t passed = 0;
      for (std::size_t column = 0; column < columns_; ++column) {
        const double x = low_.x + (static_cast<double>(column) + 0.5) * kCell;
        while (passed < crossings.size() && crossings[passed] < x) ++passed;
        if ((passed % 2 == 1) == inside) taken_[row * columns_ + column] = 1;
      }
    }
  }

  /// The largest free rectangle with both sides at least `least`: every rectangle that cannot grow
  /// stands on some row, under the heights of the free columns above it (the stack method for the
  /// largest rectangle in a histogram).
  [[nodiscard]] std::optional<Box> largest(double least) const {
    const auto cells = static_cast<std::size_t>(std::max(1.0, std::ceil(least / kCell - kTouch)));
    std::vector<std::size_t> height(columns_, 0);
    std::size_t most = 0;
    std::optional<Box> best;
    std::vector<std::size_t> open;  // columns whose heights rise
    for (std::size_t row = 0; row < rows_; ++row) {
      open.clear();
      for (std::size_t column = 0; column < columns_; ++column) {
        height[column] = taken_[row * columns_ + column] ? 0 : height[column] + 1;
      }
      for (std::size_t column = 0; column <= columns_; ++column) {
        const std::size_t here = column < columns_ ? height[column] : 0;
        while (!open.empty() && height[open.back()] >= here) {
          const std::size_t tall = height[open.back()];
          open.pop_back();
          const std::size_t first = open.empty() ? 0 : open.back() + 1;
          const std::size_t wide = column - first;
          if (tall < cells || wide < cells || tall * wide <= most) continue;
          most = tall * wide;
          best = box_of(first, column, row + 1 - tall, row + 1);
        }
        if (column < columns_) open.push_back(column);
      }
    }
    return best;
  }

  void take(const Box& box) {
    for_cells(box, [this](std::size_t cell, const Box&) { taken_[cell] = 1; });
  }

 private:
  void take_edges(const Ring& ring, double margin) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = ring[i];
      const Vec2 b = ring[(i + 1) % ring.size()];
      Box reach;
      reach.add(a);
      reach.add(b);
      for_cells(grown(reach, margin), [&](std::size_t cell, const Box& box) {
        if (!taken_[cell] && enters(a, b, grown(box, margin - kTouch))) taken_[cell] = 1;
      });
    }
  }

  static std::vector<double> crossings_at(const Polygon& polygon, double y) {
    std::vector<double> crossings;
    const auto add = [&](const Ring& ring) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i];
        const Vec2 b = ring[(i + 1) % ring.size()];
        if ((a.y <= y) == (b.y <= y)) continue;
        crossings.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
      }
    };
    add(polygon.outer);
    for (const Ring& hole : polygon.holes) add(hole);
    std::sort(crossings.begin(), crossings.end());
    return crossings;
  }

  static Box grown(const Box& box, double by) {
    return {box.low - Vec2{by, by}, box.high + Vec2{by, by}};
  }

  [[nodiscard]] Box box_of(std::size_t x0, std::size_t x1, std::size_t y0, std::size_t y1) const {
    const auto at = [this](std::size_t x, std::size_t y) {
      return low_ + kCell * Vec2{static_cast<double>(x), static_cast<double>(y)};
    };
    return {at(x0, y0), at(x1, y1)};
  }

  /// Calls `visit(cell, its box)` for the cells that the box comes into.
  template <class Visit>
  void for_cells(const Box& box, Visit visit) const {
    const auto index = [](double at, std::size_t count) {
      return static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(count)));
    };
    const std::size_t x1 = index(std::ceil((box.high.x - low_.x) / kCell - kTouch), columns_);
    const std::size_t y1 = index(std::ceil((box.high.y - low_.y) / kCell - kTouch), rows_);
    for (std::size_t y = index((box.low.y - low_.y) / kCell + kTouch, rows_); y < y1; ++y) {
      for (std::size_t x = index((box.low.x - low_.x) / kCell + kTouch, columns_); x < x1; ++x) {
        visit(y * columns_ + x, box_of(x, x + 1, y, y + 1));
      }
    }
  }

  Vec2 low_;
  std::size_t columns_;
  std::size_t rows_;
  std::vector<char> taken_;
};

}  // namespace

Result<void> check(const Offcut& offcut) {
  const auto refuse = [&offcut](std::string what, const char* field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what),
                format("offcut {} {}", offcut.id.empty() ? "?" : offcut.id, field),
                std::move(remedy));
  };
  if (offcut.film.empty()) return refuse("an offcut has no film", "film", "Name its film.");
  if (offcut.lot.empty()) {
    return refuse("an offcut has no lot", "lot", "Copy the lot of its roll: a warranty needs it.");
  }
  if (!make_polygon(offcut.outline.outer, offcut.outline.holes)) {
    return refuse("the outline is not a simple one", "outline",
                  "Draw it round once, without crossings.");
  }
  const Box box = bounding_box(offcut.outline);
  if (std::min(box.width(), box.height()) < 20 || std::max(box.width(), box.height()) > 5000) {
    return refuse(format("an offcut of {:.0f} by {:.0f} mm", box.width(), box.height()), "outline",
                  "Keep offcuts of 20 mm to 5 m a side.");
  }
  if (length(box.low) > kTouch) {
    return refuse("the outline does not begin at the origin", "outline", "Lay it down first.");
  }
  if (!is_day(offcut.kept)) {
    return refuse(format("'{}' is not a day", offcut.kept), "kept", "Write it as 2031-05-04.");
  }
  return {};
}

Polygon shelved(const Polygon& outline, Angle grain) {
  const Polygon turned = apply(Placement{-grain.radians, {}}, outline);
  return apply(Placement{0, -bounding_box(turned).low}, turned);
}

Roll as_roll(const Offcut& offcut) {
  const Box box = bounding_box(offcut.outline);
  const Mm length = booked(Mm{box.width()});
  return {offcut.id,        offcut.film, offcut.lot,
          Mm{box.height()}, length,      offcut.gone ? Mm{0} : length,
          offcut.kept,      offcut.place};
}

std::vector<Box> rests_of(const Polygon& film, std::span<const Polygon> cut, const RestRule& rule) {
  Grid grid(bounding_box(film));
  grid.take_edges(film, 0);
  grid.take_area(film, false);
  for (const Polygon& piece : cut) {
    grid.take_edges(piece, rule.margin.value);
    grid.take_area(piece, true);
  }
  std::vector<Box> rests;
  while (rests.size() < kMostRests) {
    const auto rest = grid.largest(rule.least_side.value);
    if (!rest) break;
    grid.take(*rest);
    rests.push_back(*rest);
  }
  return rests;
}

}  // namespace film::shop
