#include "digitise/detail/light.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace film::digitise::detail {
namespace {

std::array<double, 256> light_curve() {
  std::array<double, 256> curve{};
  for (std::size_t i = 0; i < curve.size(); ++i) {
    const double v = static_cast<double>(i) / 255;
    curve[i] = v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
  }
  return curve;
}

constexpr double kStep = 0.5;  // px between samples along the line

/// Light along the line at steps of kStep from -reach to reach.
std::optional<std::vector<double>> profile(const GreyRaster& photo, Vec2 middle, Vec2 across,
                                           double reach, double breadth) {
  const Vec2 along = left_of(across);
  const int lines = std::max(1, static_cast<int>(std::lround(breadth)));
  const int steps = static_cast<int>(std::ceil(reach / kStep));
  std::vector<double> values;
  for (int i = -steps; i <= steps; ++i) {
    double sum = 0;
    for (int k = 0; k < lines; ++k) {
      const auto light =
          light_at(photo, middle + (i * reach / steps) * across + (k - 0.5 * (lines - 1)) * along);
      if (!light) return std::nullopt;
      sum += *light;
    }
    values.push_back(sum / lines);
  }
  return values;
}

}  // namespace

double light_of(std::uint8_t grey) {
  static const std::array<double, 256> curve = light_curve();
  return curve[grey];
}

std::optional<double> light_at(const GreyRaster& photo, Vec2 p) {
  const double u = p.x - 0.5;
  const double v = p.y - 0.5;
  if (!(u >= 0 && v >= 0 && u < photo.width - 1 && v < photo.height - 1)) return std::nullopt;
  const int x = static_cast<int>(u);
  const int y = static_cast<int>(v);
  const double a = u - x;
  const double b = v - y;
  return (1 - b) * ((1 - a) * light_of(photo.at(x, y)) + a * light_of(photo.at(x + 1, y))) +
         b * ((1 - a) * light_of(photo.at(x, y + 1)) + a * light_of(photo.at(x + 1, y + 1)));
}

std::optional<Edge> find_edge(const GreyRaster& photo, Vec2 middle, Vec2 across, double reach,
                              double breadth) {
  Edge edge;
  constexpr int kRounds = 4;
  for (int round = 0; round < kRounds; ++round) {
    const auto values = profile(photo, middle + edge.offset * across, across, reach, breadth);
    if (!values) return std::nullopt;
    const auto n = values->size();
    const std::size_t tail = std::max<std::size_t>(2, n / 4);
    double before = 0, after = 0, sum = 0;
    for (std::size_t i = 0; i < tail; ++i) {
      before += (*values)[i] / static_cast<double>(tail);
      after += (*values)[n - 1 - i] / static_cast<double>(tail);
    }
    if (std::abs(after - before) < 0.01) return std::nullopt;
    // Trapezoids over the line; a sharp edge at e has the same sum.
    for (std::size_t i = 0; i < n; ++i) {
      sum += (i == 0 || i + 1 == n ? 0.5 : 1.0) * (*values)[i];
    }
    const double mean = sum / static_cast<double>(n - 1);
    const double move = reach * (2 * (mean - after) / (before - after) - 1);
    if (std::abs(move) > reach) return std::nullopt;
    edge.offset += move;
    edge.before = before;
    edge.after = after;
    double steepest = 0;
    for (std::size_t i = 2; i < n; ++i) {
      steepest = std::max(steepest, std::abs((*values)[i] - (*values)[i - 2]) / (2 * kStep));
    }
    edge.width = std::abs(after - before) / std::max(steepest, 1e-9);
    if (std::abs(move) < 0.02) break;
  }
  return edge;
}

}  // namespace film::digitise::detail
