#include "layout/detail/search/first_layout.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <map>
#include <numbers>
#include <numeric>
#include <optional>
#include <tuple>

namespace film::layout::detail {
namespace {

constexpr std::size_t kNoEnd = static_cast<std::size_t>(-1);
constexpr std::size_t kRows = 256;
constexpr std::size_t kWords = kRows / 64;
/// A cell is at least this share of the longest piece, so that no stamp grows without bound.
constexpr double kLongest = 1.0 / 4096;

/// Cells `first` to `last` - 1 of a column.
struct Run {
  std::size_t first, last;
};

/// One column of cells across the strip.
class Column {
 public:
  void set(std::size_t row) { words_[row / 64] |= std::uint64_t{1} << (row % 64); }
  [[nodiscard]] bool test(std::size_t row) const { return (words_[row / 64] >> (row % 64)) & 1; }
  void add(const Column& other) {
    for (std::size_t i = 0; i < kWords; ++i) words_[i] |= other.words_[i];
  }
  /// Adds the other's cells, moved up.
  void add(const Column& other, std::size_t rows) {
    for (std::size_t row = 0; row + rows < kRows; ++row) {
      if (other.test(row)) set(row + rows);
    }
  }
  /// Every row r for which a cell of the run, moved up by r, is set here.
  [[nodiscard]] Column met_by(Run run) const {
    Column out = moved_down(run.first);
    const std::size_t size = run.last - run.first;
    std::size_t have = 1;
    for (; 2 * have <= size; have *= 2) out.add(out.moved_down(have));
    if (have < size) out.add(out.moved_down(size - have));
    return out;
  }
  /// The lowest row below `rows` that is not set; `rows` when all are.
  [[nodiscard]] std::size_t lowest_free(std::size_t rows) const {
    for (std::size_t i = 0; i < kWords; ++i) {
      if (~words_[i] != 0) {
        return std::min(rows, 64 * i + static_cast<std::size_t>(std::countr_one(words_[i])));
      }
    }
    return rows;
  }
  [[nodiscard]] std::vector<Run> runs() const {
    std::vector<Run> runs;
    for (std::size_t row = 0; row < kRows; ++row) {
      if (!test(row)) continue;
      if (runs.empty() || runs.back().last != row) runs.push_back({row, row});
      runs.back().last = row + 1;
    }
    return runs;
  }

 private:
  [[nodiscard]] Column moved_down(std::size_t rows) const {
    Column out;
    const std::size_t word = rows / 64;
    const std::size_t bit = rows % 64;
    for (std::size_t i = 0; i + word < kWords; ++i) {
      out.words_[i] = words_[i + word] >> bit;
      if (bit != 0 && i + word + 1 < kWords) out.words_[i] |= words_[i + word + 1] << (64 - bit);
    }
    return out;
  }

  std::array<std::uint64_t, kWords> words_{};
};

/// A shape's cells; the lower left of cell (0, 0) is `origin` in the shape's own frame.
struct Stamp {
  double turn = 0;
  Vec2 origin;
  std::vector<Column> columns;
  /// A column's cells; columns with most cells come first, since they soonest show that there is
  /// no room.
  struct Tall {
    std::size_t column = 0;
    std::vector<Run> runs;
    std::size_t cells = 0;
  };
  std::vector<Tall> tallest;
  std::size_t rows = 0;
  double middle = 0;     // of the turned shape's box, in x
  std::size_t from = 0;  // no column before this one has room; it never gets more
};

double squared_distance(Vec2 a, Vec2 b, Vec2 p) {
  const Vec2 along = b - a;
  const double square = squared_length(along);
  const double t = square > 0 ? std::clamp(dot(p - a, along) / square, 0.0, 1.0) : 0.0;
  return squared_length(p - a - t * along);
}

/// Fits `stamp.columns` to the shape: every cell within `reach` of it.
void rasterise(const Polygon& shape, double cell, double reach, Stamp& stamp) {
  const Box box = bounding_box(shape);
  if (box.high.x + reach < stamp.origin.x || box.high.y + reach < stamp.origin.y) return;
  const double whole = reach + cell * std::numbers::sqrt2 / 2;
  const auto columns =
      static_cast<std::size_t>(std::floor((box.high.x + reach - stamp.origin.x) / cell)) + 1;
  stamp.rows =
      static_cast<std::size_t>(std::floor((box.high.y + reach - stamp.origin.y) / cell)) + 1;
  stamp.columns.assign(columns, {});
  std::vector<std::pair<Vec2, Vec2>> edges;
  const auto add_ring = [&](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      edges.emplace_back(ring[i], ring[(i + 1) % ring.size()]);
    }
  };
  add_ring(shape.outer);
  for (const Ring& hole : shape.holes) add_ring(hole);
  const auto rows = std::min(stamp.rows, kRows);
  for (const auto& [a, b] : edges) {  // cells near the boundary
    const auto index = [&](double v, double origin, std::size_t count) {
      const double at = std::floor((v - origin) / cell);
      return static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(count - 1)));
    };
    const std::size_t c0 = index(std::min(a.x, b.x) - whole, stamp.origin.x, columns);
    const std::size_t c1 = index(std::max(a.x, b.x) + whole, stamp.origin.x, columns);
    const std::size_t r0 = index(std::min(a.y, b.y) - whole, stamp.origin.y, rows);
    const std::size_t r1 = index(std::max(a.y, b.y) + whole, stamp.origin.y, rows);
    for (std::size_t c = c0; c <= c1; ++c) {
      for (std::size_t r = r0; r <= r1; ++r) {
        const Vec2 centre =
            stamp.origin + cell * Vec2{static_cast<double>(c) + 0.5, static_cast<double>(r) + 0.5};
        if (squared_distance(a, b, centre) <= whole * whole) stamp.columns[c].set(r);
      }
    }
  }
  for (std::size_t c = 0; c < columns; ++c) {  // cells inside: between crossings of the middle
    const double x = stamp.origin.x + cell * (static_cast<double>(c) + 0.5);
    std::vector<double> crossings;
    for (const auto& [a, b] : edges) {
      if ((a.x > x) != (b.x > x)) {
        crossings.push_back(a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y));
      }
    }
    std::sort(crossings.begin(), crossings.end());
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
      const double first = (crossings[i] - stamp.origin.y) / cell;
      const double last = (crossings[i + 1] - stamp.origin.y) / cell;
      for (double r = std::max(0.0, std::floor(first)); r <= last && r < static_cast<double>(rows);
           ++r) {
        stamp.columns[c].set(static_cast<std::size_t>(r));
      }
    }
  }
}

class Raster {
 public:
  Raster(const Problem& problem, const std::vector<PlacedPiece>& locked, double first_middle)
      : problem_(problem), strip_(problem.strip), first_middle_(first_middle) {
    slack_ = 1e-9 * strip_.width;
    reach_ = strip_.gap / 2 + slack_;
    low_ = {strip_.margins.start - reach_ + 2 * slack_, strip_.margins.low - reach_ + 2 * slack_};
    const double height = strip_.width - strip_.margins.high + reach_ - 2 * slack_ - low_.y;
    double longest = 0;
    for (const Item& item : problem.items) {
      const Box box = bounding_box(item.shape);
      longest = std::max(longest, std::hypot(box.width(), box.height()));
    }
    cell_ = std::max(height / static_cast<double>(kRows), kLongest * longest);
    rows_ = static_cast<std::size_t>(std::floor(height / cell_ * (1 + 1e-12)));
    const double end = strip_.maximum_length - strip_.margins.end + reach_ - 2 * slack_ - low_.x;
    if (end < 1e6 * cell_) end_ = static_cast<std::size_t>(std::max(0.0, std::floor(end / cell_)));
    for (const PlacedPiece& piece : locked) cover(outline_of(problem, piece));
    for (const Polygon& defect : strip_.defects) cover(defect);
  }

  /// Nothing when the piece does not fit before the end of the strip.
  std::optional<PlacedPiece> place(std::size_t item, int copy) {
    std::vector<Stamp>& stamps = stamps_of(item);
    Stamp* best = nullptr;
    std::size_t best_column = 0;
    std::size_t best_row = 0;
    std::size_t best_end = end_ == kNoEnd ? kNoEnd : end_ + 1;
    for (Stamp& stamp : stamps) {
      if (stamp.rows > rows_) continue;
      const auto [column, row] = lowest_room(stamp, best_end);
      if (column + stamp.columns.size() < best_end) {
        best = &stamp;
        best_column = column;
        best_row = row;
        best_end = column + stamp.columns.size();
      }
    }
    if (best == nullptr) return place_alone(item, copy, stamps);
    mark(*best, best_column, best_row);
    const Vec2 corner =
        low_ + cell_ * Vec2{static_cast<double>(best_column), static_cast<double>(best_row)};
    return PlacedPiece{item, copy, {best->turn, corner - best->origin}};
  }

 private:
  std::vector<Stamp>& stamps_of(std::size_t item) {
    auto [at, fresh] = stamps_.try_emplace(item);
    if (!fresh) return at->second;
    const Item& what = problem_.items[item];
    for (const Angle turn : what.turns) {
      Stamp stamp;
      stamp.turn = turn.radians;
      const Polygon shape = film::apply(Placement{turn.radians, {}}, what.shape);
      const Box box = bounding_box(shape);
      if (!fits(strip_, box)) continue;
      stamp.origin = box.low - Vec2{reach_, reach_};
      stamp.middle = box.centre().x;
      const double column = (first_middle_ - stamp.middle + stamp.origin.x - low_.x) / cell_;
      stamp.from = static_cast<std::size_t>(std::max(0.0, std::ceil(column)));
      rasterise(shape, cell_, reach_, stamp);
      for (std::size_t c = 0; c < stamp.columns.size(); ++c) {
        Stamp::Tall tall{c, stamp.columns[c].runs()};
        for (const Run& run : tall.runs) tall.cells += run.last - run.first;
        stamp.tallest.push_back(std::move(tall));
      }
      std::stable_sort(
          stamp.tallest.begin(), stamp.tallest.end(),
          [](const Stamp::Tall& a, const Stamp::Tall& b) { return a.cells > b.cells; });
      at->second.push_back(std::move(stamp));
    }
    return at->second;
  }

  /// The first column, and the lowest row in it, where the stamp's cells are free.
  std::pair<std::size_t, std::size_t> lowest_room(Stamp& stamp, std::size_t give_up) {
    const std::size_t rows = rows_ - stamp.rows + 1;
    for (std::size_t column = stamp.from;; ++column) {
      stamp.from = column;
      if (column + stamp.columns.size() >= give_up) return {give_up, 0};
      Column taken;
      std::size_t row = 0;
      for (const Stamp::Tall& tall : stamp.tallest) {
        if (column + tall.column >= used_.size()) continue;
        for (const Run& run : tall.runs) taken.add(used_[column + tall.column].met_by(run));
        row = taken.lowest_free(rows);
        if (row == rows) break;
      }
      if (row < rows) return {column, row};
    }
  }
  void mark(const Stamp& stamp, std::size_t column, std::size_t row) {
    if (used_.size() < column + stamp.columns.size()) used_.resize(column + stamp.columns.size());
    for (std::size_t c = 0; c < stamp.columns.size(); ++c) {
      used_[column + c].add(stamp.columns[c], row);
    }
  }

  /// A piece that takes the whole width: behind everything else.
  std::optional<PlacedPiece> place_alone(std::size_t item, int copy,
                                         const std::vector<Stamp>& stamps) {
    const Stamp* best = nullptr;
    Vec2 low;
    for (const Stamp& stamp : stamps) {
      const Box box =
          bounding_box(film::apply(Placement{stamp.turn, {}}, problem_.items[item].shape));
      if (stamp.rows <= rows_) continue;  // there was no room for it
      if (best != nullptr && stamp.columns.size() >= best->columns.size()) continue;
      best = &stamp;
      low = box.low;
    }
    if (best == nullptr) return std::nullopt;
    const std::size_t start = std::max(used_.size(), best->from);
    if (end_ != kNoEnd && start + best->columns.size() > end_) return std::nullopt;
    used_.resize(start);
    const double x = low_.x + reach_ + cell_ * static_cast<double>(start);
    Column full;
    for (std::size_t row = 0; row < kRows; ++row) full.set(row);
    used_.resize(used_.size() + best->columns.size(), full);
    return PlacedPiece{item, copy, {best->turn, Vec2{x, strip_.margins.low} - low}};
  }

  /// Takes the cells of something that lies where it lies.
  void cover(const Polygon& shape) {
    const double before = (bounding_box(shape).low.x - reach_ - low_.x) / cell_;
    const double column = std::floor(std::max(0.0, before));
    Stamp stamp;
    stamp.origin = low_ + Vec2{cell_ * column, 0};
    rasterise(shape, cell_, reach_, stamp);
    mark(stamp, static_cast<std::size_t>(column), 0);
  }

  const Problem& problem_;
  const Strip& strip_;
  double first_middle_;
  std::size_t end_ = kNoEnd;  // columns before the strip's end
  double slack_ = 0;
  double reach_ = 0;
  double cell_ = 0;
  std::size_t rows_ = kRows;
  Vec2 low_;
  std::vector<Column> used_;
  std::map<std::size_t, std::vector<Stamp>> stamps_;
};

}  // namespace

FirstLayout first_layout(const Problem& problem, const std::vector<PlacedPiece>& there,
                         double first_middle) {
  std::vector<std::size_t> order(problem.items.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::vector<double> size;
  for (const Item& item : problem.items) {
    const Box box = bounding_box(item.shape);
    size.push_back(box.width() * box.height());
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::tuple(-problem.items[a].priority, -size[a]) <
           std::tuple(-problem.items[b].priority, -size[b]);
  });
  std::vector<std::vector<char>> taken;
  for (const Item& item : problem.items) {
    taken.emplace_back(static_cast<std::size_t>(item.quantity), 0);
  }
  for (const PlacedPiece& p : there) taken[p.item][static_cast<std::size_t>(p.copy)] = 1;
  Raster raster(problem, there, first_middle);
  FirstLayout layout{there, {}};
  for (const std::size_t item : order) {
    for (int copy = 0; copy < problem.items[item].quantity; ++copy) {
      if (taken[item][static_cast<std::size_t>(copy)]) continue;
      if (const auto placed = raster.place(item, copy)) {
        layout.placements.push_back(*placed);
      } else {
        layout.left_out.push_back({item, copy, "does not fit in the length left"});
      }
    }
  }
  return layout;
}

}  // namespace film::layout::detail
