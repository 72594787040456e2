#include "digitise/detail/plan_view.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "digitise/board.h"
#include "digitise/detail/light.h"

namespace film::digitise::detail {
namespace {

bool inside_convex(const Ring& ring, Vec2 p) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    if (cross(ring[(i + 1) % ring.size()] - a, p - a) < 0) return false;
  }
  return true;
}

/// Squares whose middles lie in a convex ring get `value`.
void fill(PlanView& view, const Ring& ring, std::uint8_t value) {
  Box box;
  for (const Vec2 p : ring) box.add(p);
  const auto column = [&](double x, double round) {
    return std::clamp(static_cast<int>(std::floor((x - view.low.x) / view.pitch + round)), 0,
                      view.width);
  };
  const auto row = [&](double y, double round) {
    return std::clamp(static_cast<int>(std::floor((y - view.low.y) / view.pitch + round)), 0,
                      view.height);
  };
  for (int y = row(box.low.y, 0); y < row(box.high.y, 1); ++y) {
    for (int x = column(box.low.x, 0); x < column(box.high.x, 1); ++x) {
      if (inside_convex(ring, view.place(x, y))) view.free[view.index(x, y)] = value;
    }
  }
}

// ---- threshold

/// Running mean of a field weighted by a mask over a square window, three times: nearly Gaussian.
/// Squares without weight nearby take the mean over all.
void smooth(std::vector<float>& sum, std::vector<float>& weight, int width, int height,
            int radius) {
  std::vector<float> line(static_cast<std::size_t>(std::max(width, height)));
  const auto pass = [&](std::vector<float>& field, std::size_t start, std::size_t stride, int n) {
    double running = 0;
    for (int i = 0; i < std::min(radius, n); ++i) {
      running += field[start + static_cast<std::size_t>(i) * stride];
    }
    for (int i = 0; i < n; ++i) {
      if (i + radius < n) running += field[start + static_cast<std::size_t>(i + radius) * stride];
      if (i - radius - 1 >= 0) {
        running -= field[start + static_cast<std::size_t>(i - radius - 1) * stride];
      }
      line[static_cast<std::size_t>(i)] = static_cast<float>(running / (2 * radius + 1));
    }
    for (int i = 0; i < n; ++i) {
      field[start + static_cast<std::size_t>(i) * stride] = line[static_cast<std::size_t>(i)];
    }
  };
  for (std::vector<float>* field : {&sum, &weight}) {
    for (int turn = 0; turn < 3; ++turn) {
      for (int y = 0; y < height; ++y) {
        pass(*field, static_cast<std::size_t>(y) * static_cast<std::size_t>(width), 1, width);
      }
      for (int x = 0; x < width; ++x) {
        pass(*field, static_cast<std::size_t>(x), static_cast<std::size_t>(width), height);
      }
    }
  }
}

struct Threshold {
  double value = 0;
  double low = 0, high = 0;  // means of the two classes
};

Threshold otsu(const PlanView& view) {
  constexpr int kBins = 256;
  float least = 1e9F, most = -1e9F;
  for (std::size_t i = 0; i < view.free.size(); ++i) {
    if (view.free[i] == 0) continue;
    least = std::min(least, view.light[i]);
    most = std::max(most, view.light[i]);
  }
  std::array<double, kBins> count{};
  const double width = std::max(1e-6, static_cast<double>(most - least) / kBins);
  double all = 0, total = 0;
  for (std::size_t i = 0; i < view.free.size(); ++i) {
    if (view.free[i] == 0) continue;
    const auto bin = std::min<std::size_t>(
        kBins - 1, static_cast<std::size_t>(static_cast<double>(view.light[i] - least) / width));
    count[bin] += 1;
    all += 1;
    total += static_cast<double>(bin) + 0.5;
  }
  Threshold best;
  double best_score = -1, below = 0, sum = 0;
  for (std::size_t b = 0; b + 1 < kBins; ++b) {
    below += count[b];
    sum += count[b] * (static_cast<double>(b) + 0.5);
    if (below == 0 || below == all) continue;
    const double low = sum / below;
    const double high = (total - sum) / (all - below);
    const double score = below * (all - below) * (high - low) * (high - low);
    if (score <= best_score) continue;
    best_score = score;
    const auto real = [&](double v) { return static_cast<double>(least) + width * v; };
    best = {real(0.5 * (low + high)), real(low), real(high)};
  }
  return best;
}

/// Whether most of the squares along the border of the free ground are brighter than the threshold.
bool ground_is_bright(const PlanView& view, const std::vector<std::uint8_t>& bright) {
  std::size_t along = 0, of_those = 0;
  constexpr int kBand = 3;
  for (int y = kBand; y + kBand < view.height; ++y) {
    for (int x = kBand; x + kBand < view.width; ++x) {
      const std::size_t i = view.index(x, y);
      if (view.free[i] == 0) continue;
      const bool border =
          view.free[view.index(x - kBand, y)] == 0 || view.free[view.index(x + kBand, y)] == 0 ||
          view.free[view.index(x, y - kBand)] == 0 || view.free[view.index(x, y + kBand)] == 0;
      if (!border) continue;
      ++along;
      of_those += bright[i];
    }
  }
  return 2 * of_those > along;
}

// ---- spots

/// Connected squares of equal sign (four neighbours for templates, eight for the ground).
struct Labels {
  std::vector<int> of;  // label of each square
  struct Part {
    bool template_side = false;
    std::size_t squares = 0;
    bool at_border = false;
    Vec2 border;
  };
  std::vector<Part> parts;
};

Labels label(const PlanView& view, const std::vector<float>& field) {
  Labels labels;
  labels.of.assign(field.size(), -1);
  std::vector<std::pair<int, int>> open;
  for (int y = 0; y < view.height; ++y) {
    for (int x = 0; x < view.width; ++x) {
      if (labels.of[view.index(x, y)] >= 0) continue;
      const int id = static_cast<int>(labels.parts.size());
      Labels::Part part;
      part.template_side = field[view.index(x, y)] > 0;
      const int ways = part.template_side ? 4 : 8;
      labels.of[view.index(x, y)] = id;
      open.assign(1, {x, y});
      while (!open.empty()) {
        const auto [px, py] = open.back();
        open.pop_back();
        ++part.squares;
        constexpr int kX[] = {1, -1, 0, 0, 1, 1, -1, -1};
        constexpr int kY[] = {0, 0, 1, -1, 1, -1, 1, -1};
        for (int k = 0; k < ways; ++k) {
          const int qx = px + kX[k];
          const int qy = py + kY[k];
          const bool out = qx < 0 || qy < 0 || qx >= view.width || qy >= view.height;
          if (out || view.free[view.index(qx, qy)] == 0) {
            if (!part.at_border) part.border = view.place(px, py);
            part.at_border = true;
          }
          if (out) continue;
          const std::size_t q = view.index(qx, qy);
          if (labels.of[q] >= 0 || (field[q] > 0) != part.template_side) continue;
          labels.of[q] = id;
          open.emplace_back(qx, qy);
        }
      }
      labels.parts.push_back(part);
    }
  }
  return labels;
}

/// Where the field passes through 0, with the positive side to the left: marching squares.
std::vector<Ring> zero_lines(const PlanView& view, const std::vector<float>& field) {
  const std::size_t squares = field.size();
  // Crossing 2 i lies between square i and its right neighbour, 2 i + 1 between it and the upper.
  std::vector<int> next(2 * squares, -1);
  for (int y = 0; y + 1 < view.height; ++y) {
    for (int x = 0; x + 1 < view.width; ++x) {
      const std::size_t a = view.index(x, y), b = a + 1, d = view.index(x, y + 1), c = d + 1;
      const int bottom = static_cast<int>(2 * a), left = bottom + 1;
      const int right = static_cast<int>(2 * b) + 1, top = static_cast<int>(2 * d);
      const auto link = [&](int from, int to) { next[static_cast<std::size_t>(from)] = to; };
      const int sign = (field[a] > 0 ? 1 : 0) + (field[b] > 0 ? 2 : 0) + (field[c] > 0 ? 4 : 0) +
                       (field[d] > 0 ? 8 : 0);
      switch (sign) {
        case 1: link(bottom, left); break;
        case 2: link(right, bottom); break;
        case 3: link(right, left); break;
        case 4: link(top, right); break;
        case 5: link(bottom, left), link(top, right); break;
        case 6: link(top, bottom); break;
        case 7: link(top, left); break;
        case 8: link(left, top); break;
        case 9: link(bottom, top); break;
        case 10: link(right, bottom), link(left, top); break;
        case 11: link(right, top); break;
        case 12: link(left, right); break;
        case 13: link(bottom, right); break;
        case 14: link(left, bottom); break;
        default: break;
      }
    }
  }
  const auto crossing = [&](int id) {
    const std::size_t i = static_cast<std::size_t>(id) / 2;
    const auto x = static_cast<double>(i % static_cast<std::size_t>(view.width));
    const auto y = static_cast<double>(i / static_cast<std::size_t>(view.width));
    const bool up = id % 2 == 1;
    const std::size_t j = i + (up ? static_cast<std::size_t>(view.width) : 1);
    const double t = static_cast<double>(field[i]) / static_cast<double>(field[i] - field[j]);
    return up ? view.place(x, y + t) : view.place(x + t, y);
  };
  std::vector<Ring> rings;
  for (std::size_t start = 0; start < next.size(); ++start) {
    if (next[start] < 0) continue;
    Ring ring;
    int at = static_cast<int>(start);
    while (next[static_cast<std::size_t>(at)] >= 0) {
      ring.push_back(crossing(at));
      const int to = next[static_cast<std::size_t>(at)];
      next[static_cast<std::size_t>(at)] = -1;
      at = to;
    }
    rings.push_back(std::move(ring));
  }
  return rings;
}

}  // namespace

std::vector<Ring> pages(const Scene& scene, double margin) {
  std::vector<Ring> rings;
  for (const auto& [sheet, placement] : scene.sheets) {
    const Vec2 a = kPage.low - Vec2{margin, margin};
    const Vec2 b = kPage.high + Vec2{margin, margin};
    Ring ring;
    for (const Vec2 p : {a, Vec2{b.x, a.y}, b, Vec2{a.x, b.y}}) {
      ring.push_back(scene.place(sheet, p));
    }
    rings.push_back(std::move(ring));
  }
  return rings;
}

Ring hull_of(std::vector<Vec2> points) {
  // A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", 1979.
  std::sort(points.begin(), points.end(),
            [](Vec2 a, Vec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  Ring hull;
  for (int side = 0; side < 2; ++side) {
    const std::size_t start = hull.size();
    for (const Vec2 p : points) {
      while (hull.size() >= start + 2 &&
             cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0) {
        hull.pop_back();
      }
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

PlanView plan_view(const GreyRaster& photo, const Scene& scene, double height, double pitch) {
  constexpr double kPageMargin = 2;  // mm
  std::vector<Vec2> corners;
  for (const Ring& page : pages(scene, 0)) corners.insert(corners.end(), page.begin(), page.end());
  const Ring hull = hull_of(std::move(corners));
  Box box;
  for (const Vec2 p : hull) box.add(p);
  PlanView view;
  view.pitch = pitch;
  view.low = box.low;
  view.width = static_cast<int>(box.width() / pitch) + 2;
  view.height = static_cast<int>(box.height() / pitch) + 2;
  const std::size_t squares =
      static_cast<std::size_t>(view.width) * static_cast<std::size_t>(view.height);
  view.light.assign(squares, 0);
  view.free.assign(squares, 0);
  fill(view, hull, 1);
  for (const Ring& page : pages(scene, kPageMargin)) fill(view, page, 0);
  for (int y = 0; y < view.height; ++y) {
    for (int x = 0; x < view.width; ++x) {
      const std::size_t i = view.index(x, y);
      if (view.free[i] == 0) continue;
      const Vec2 p = view.place(x, y);
      double sum = 0;
      bool seen = scene.camera.is_before(p);
      for (const double dx : {-0.25, 0.25}) {
        for (const double dy : {-0.25, 0.25}) {
          const auto light = light_at(photo, scene.camera.seen(p + pitch * Vec2{dx, dy}, height));
          seen = seen && light;
          sum += light.value_or(0);
        }
      }
      view.free[i] = seen ? 1 : 0;
      view.light[i] = static_cast<float>(std::log(0.25 * sum + 0.002));  // 0.002: half a grey step
    }
  }
  return view;
}

Result<Separation> separate(const PlanView& view) {
  const auto free = static_cast<std::size_t>(std::count(view.free.begin(), view.free.end(), 1));
  constexpr double kLeastGround = 10'000;  // mm^2
  if (static_cast<double>(free) * view.pitch * view.pitch < kLeastGround) {
    return fail(ErrorCode::invalid_input, "there is no ground between the sheets", "",
                "Lay the sheets apart, all round the template");
  }
  const Threshold first = otsu(view);
  std::vector<std::uint8_t> bright(view.free.size(), 0);
  for (std::size_t i = 0; i < bright.size(); ++i) {
    bright[i] = static_cast<double>(view.light[i]) > first.value ? 1 : 0;
  }
  // The light over the place, as the brighter class shows it or the darker would if it were as
  // bright; the threshold lies half-way between the two.
  double ratio = first.high - first.low;
  std::vector<float> middle(view.free.size(), 0);
  const int radius = std::max(2, static_cast<int>(25 / view.pitch));
  constexpr int kRounds = 5;
  for (int round = 0; round < kRounds; ++round) {
    std::vector<float> sum(view.free.size(), 0);
    std::vector<float> weight(view.free.size(), 0);
    for (std::size_t i = 0; i < sum.size(); ++i) {
      if (view.free[i] == 0) continue;
      weight[i] = 1;
      sum[i] = view.light[i] + (bright[i] != 0 ? -0.5F : 0.5F) * static_cast<float>(ratio);
    }
    smooth(sum, weight, view.width, view.height, radius);
    double low = 0, high = 0, lows = 0, highs = 0;
    for (std::size_t i = 0; i < sum.size(); ++i) {
      if (view.free[i] == 0) continue;
      middle[i] = sum[i] / std::max(weight[i], 1e-6F);
      const double above = static_cast<double>(view.light[i] - middle[i]);
      bright[i] = above > 0 ? 1 : 0;
      (above > 0 ? high : low) += above;
      (above > 0 ? highs : lows) += 1;
    }
    ratio = high / std::max(highs, 1.0) - low / std::max(lows, 1.0);
  }
  // A tenth of contrast is what a fold or a stain makes.
  constexpr double kLeastRatio = 0.25;
  if (!(ratio > kLeastRatio)) {
    return fail(ErrorCode::invalid_input,
                "no template stands out among the sheets: all is of nearly one brightness", "",
                "Lay a dark template on a bright ground or a bright one on a dark ground");
  }
  Separation result;
  result.dark = ground_is_bright(view, bright);
  result.contrast = std::exp(ratio);
  result.field.assign(view.free.size(), -1);
  for (std::size_t i = 0; i < result.field.size(); ++i) {
    if (view.free[i] == 0) continue;
    const float above = view.light[i] - middle[i];
    result.field[i] = result.dark ? -above : above;
  }
  return result;
}

std::vector<Spot> spots(const PlanView& view, const Separation& separation, double least) {
  const double square = view.pitch * view.pitch;
  std::vector<float> field = separation.field;
  Labels labels = label(view, field);
  constexpr float kLittle = 0.01F;
  // Specks go, and so does ground too small to be an opening.
  for (std::size_t i = 0; i < field.size(); ++i) {
    const auto& part = labels.parts[static_cast<std::size_t>(labels.of[i])];
    const double area = static_cast<double>(part.squares) * square;
    if (part.template_side && area < least) field[i] = -kLittle;
    if (!part.template_side && area < least / 10 && view.free[i] == 1) field[i] = kLittle;
  }
  labels = label(view, field);
  std::vector<Spot> found;
  for (int id = 0; id < static_cast<int>(labels.parts.size()); ++id) {
    const auto& part = labels.parts[static_cast<std::size_t>(id)];
    const double area = static_cast<double>(part.squares) * square;
    if (!part.template_side || area < least) continue;
    Spot spot{area, part.at_border, part.border, {}};
    std::vector<float> alone(field.size(), -kLittle);
    for (std::size_t i = 0; i < field.size(); ++i) {
      if (labels.of[i] == id || field[i] <= 0) alone[i] = field[i];
    }
    for (Ring& ring : zero_lines(view, alone)) {
      // Ground beside another spot is no opening of this one, and its line is none of this.
      if (ring.size() >= 8) spot.rings.push_back(std::move(ring));
    }
    std::sort(spot.rings.begin(), spot.rings.end(), [](const Ring& a, const Ring& b) {
      return std::abs(signed_area(a)) > std::abs(signed_area(b));
    });
    found.push_back(std::move(spot));
  }
  std::sort(found.begin(), found.end(),
            [](const Spot& a, const Spot& b) { return a.area > b.area; });
  return found;
}

}  // namespace film::digitise::detail
