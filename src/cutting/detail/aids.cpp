#include "cutting/detail/aids.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "cutting/detail/alignment.h"
#include "cutting/detail/stroke_font.h"

namespace film::cutting::detail {
namespace {

constexpr double kBoxDistance = 5;    // mm from the pieces to the weed box
constexpr double kBoxSide = 500;      // its sides are parted, so that each lies in one frame
constexpr double kShortestWeed = 15;  // a shorter weed line helps nobody
constexpr double kLetterHeight = 6;
constexpr double kLabelDistance = 2;

using Span = std::pair<double, double>;

/// What of `span` is outside all of `taken`.
std::vector<Span> free_of(Span span, std::vector<Span> taken) {
  std::sort(taken.begin(), taken.end());
  std::vector<Span> free;
  for (const auto& [low, high] : taken) {
    if (low > span.first) free.push_back({span.first, std::min(low, span.second)});
    span.first = std::max(span.first, high);
    if (span.first >= span.second) return free;
  }
  free.push_back(span);
  return free;
}

/// Where the shape lies within the band `low` to `high` along the roll, from its least to its
/// greatest place across: a bay in between counts as taken.
void add_taken(const Ring& ring, double low, double high, double clear, std::vector<Span>& taken) {
  Box box;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    Vec2 a = ring[i];
    Vec2 b = ring[(i + 1) % ring.size()];
    if (a.x > b.x) std::swap(a, b);
    if (b.x < low || a.x > high) continue;
    const auto at = [&](double x) {
      return b.x > a.x ? a.y + (b.y - a.y) * (std::clamp(x, a.x, b.x) - a.x) / (b.x - a.x) : a.y;
    };
    box.add(Vec2{low, at(low)});
    box.add(Vec2{low, at(high)});
    if (a.x == b.x) box.add(Vec2{low, b.y});
  }
  if (box.low.y <= box.high.y) taken.push_back({box.low.y - clear, box.high.y + clear});
}

class AidMaker {
 public:
  AidMaker(const std::vector<Shape>& shapes, const std::vector<Line>& lines,
           const MachineProfile& profile, const Box& media)
      : shapes_(shapes), lines_(lines), profile_(profile), media_(media) {
    for (const Line& line : lines) pieces_.add(line.box);
    clear_ = 1 + 2 * profile.knife.blade_offset.value;
    reach_.low = media.low + Vec2{clear_, clear_};
    reach_.high = media.high - Vec2{clear_, clear_};
    const double away = std::max(kBoxDistance, clear_);
    box_ = {pieces_.low - Vec2{away, away}, pieces_.high + Vec2{away, away}};
    box_ = {{std::max(box_.low.x, reach_.low.x), std::max(box_.low.y, reach_.low.y)},
            {std::min(box_.high.x, reach_.high.x), std::min(box_.high.y, reach_.high.y)}};
  }

  AidLines make() {
    const Aids& aids = profile_.aids;
    if (aids.weed_box) weed_box();
    if (aids.weed_lines) weed_lines(aids.weed_lines->value);
    if (aids.labels) labels();
    if (aids.sheet_end) {
      add("sheet end", {{{reach_.high.x, reach_.low.y}, {reach_.high.x, reach_.high.y}}});
    }
    return std::move(made_);
  }

 private:
  void add(const std::string& name, const std::vector<Polyline>& lines) {
    const std::size_t shape = shapes_.size() + made_.names.size();
    made_.names.push_back(name);
    for (const Polyline& points : lines) {
      made_.lines.push_back({shape, ContourKind::aid, points, bounding_box(points), {0}});
    }
  }

  void weed_box() {
    std::vector<Polyline> sides;
    const double length = box_.width();
    const double most = std::min(kBoxSide, profile_.max_frame_length.value / 2);
    const int parts = std::max(1, static_cast<int>(std::ceil(length / most)));
    for (const double y : {box_.low.y, box_.high.y}) {
      for (int k = 0; k < parts; ++k) {
        sides.push_back(
            {{box_.low.x + length * k / parts, y}, {box_.low.x + length * (k + 1) / parts, y}});
      }
    }
    sides.push_back({box_.low, {box_.low.x, box_.high.y}});
    sides.push_back({{box_.high.x, box_.low.y}, box_.high});
    add("weed box", sides);
  }

  void weed_lines(double spacing) {
    std::vector<Polyline> found;
    for (double x = box_.low.x + spacing; x < box_.high.x - spacing / 2; x += spacing) {
      std::vector<Span> taken;
      for (const Shape& shape : shapes_) {
        add_taken(shape.outline.outer, x - clear_, x + clear_, clear_, taken);
      }
      for (const auto& [low, high] : free_of({box_.low.y, box_.high.y}, std::move(taken))) {
        if (high - low >= kShortestWeed) found.push_back({{x, low}, {x, high}});
      }
    }
    if (!found.empty()) add("weed line", found);
  }

  [[nodiscard]] bool is_free(const Box& spot) const {
    if (!reach_.contains(spot.low) || !reach_.contains(spot.high)) return false;
    const auto hits = [&](const Line& line) { return lies_in(spot, line); };
    return std::none_of(lines_.begin(), lines_.end(), hits) &&
           std::none_of(made_.lines.begin(), made_.lines.end(), hits);
  }

  void labels() {
    for (const Shape& shape : shapes_) {
      const Vec2 size{width_of(shape.piece, kLetterHeight), kLetterHeight};
      const Vec2 room{clear_, clear_};
      const Box box = bounding_box(shape.outline);
      const double off = kLabelDistance + clear_;
      bool found = false;
      // Along the four sides of its box, then at the places that bays leave inside it.
      std::vector<Vec2> places;
      for (double t = 0; t <= 1; t += 0.125) {
        const double x = box.low.x + t * std::max(0.0, box.width() - size.x);
        const double y = box.low.y + t * std::max(0.0, box.height() - size.y);
        places.push_back({x, box.high.y + off});
        places.push_back({x, box.low.y - off - size.y});
        places.push_back({box.high.x + off, y});
        places.push_back({box.low.x - off - size.x, y});
      }
      constexpr int kInside = 12;
      for (int k = 0; k < kInside * kInside; ++k) {
        const Vec2 share{(k % kInside + 0.5) / kInside, (k / kInside + 0.5) / kInside};
        places.push_back(box.low + Vec2{share.x * box.width(), share.y * box.height()});
      }
      for (const Vec2 at : places) {
        if (!is_free({at - room, at + size + room})) continue;
        std::vector<Polyline> strokes = strokes_of(shape.piece, kLetterHeight);
        for (Polyline& stroke : strokes) {
          for (Vec2& p : stroke) p = p + at;
        }
        add("label " + shape.piece, strokes);
        found = true;
        break;
      }
      if (!found) made_.unlabelled.push_back(shape.piece);
    }
  }

  const std::vector<Shape>& shapes_;
  const std::vector<Line>& lines_;
  const MachineProfile& profile_;
  const Box media_;
  double clear_ = 0;  // that a blade needs round a line
  Box pieces_;
  Box reach_;
  Box box_;
  AidLines made_;
};

}  // namespace

AidLines aid_lines(const std::vector<Shape>& shapes, const std::vector<Line>& lines,
                   const MachineProfile& profile, const Box& media) {
  return AidMaker(shapes, lines, profile, media).make();
}

SeamMarks seam_marks(double x, const MachineProfile& profile, std::size_t shape) {
  constexpr double kLeastArm = 1;
  constexpr double kMostArm = 5;
  SeamMarks marks;
  const double clear = 0.3 + 1.5 * profile.knife.blade_offset.value;
  const auto at = [&](double y, double margin) {
    const double half = std::min(kMostArm, margin / 2 - clear);
    if (half < kLeastArm) return;
    const double arm = 0.6 * half;
    const auto add = [&](std::vector<Line>& lines, Polyline points) {
      const Box box = bounding_box(points);
      lines.push_back({shape, ContourKind::aid, std::move(points), box, {0}});
    };
    add(marks.crosses, {{x - arm, y}, {x + arm, y}});
    add(marks.crosses, {{x, y - arm}, {x, y + arm}});
    add(marks.squares, {{x - half, y - half},
                        {x + half, y - half},
                        {x + half, y + half},
                        {x - half, y + half},
                        {x - half, y - half}});
  };
  const double low = profile.margins.low.value;
  const double high = profile.margins.high.value;
  at(low / 2, low);
  at(profile.media_width.value - high / 2, high);
  return marks;
}

}  // namespace film::cutting::detail
