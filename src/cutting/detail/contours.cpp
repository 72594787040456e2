#include "cutting/detail/contours.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "cutting/detail/knife_path.h"

namespace film::cutting::detail {
namespace {

constexpr std::size_t kMostStarts = 16;
constexpr double kLeastApart = 20;  // mm between two entry places on one straight stretch

double distance_to_ring(const Ring& ring, Vec2 p) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 ab = ring[(i + 1) % ring.size()] - a;
    const double squared = squared_length(ab);
    const double t = squared > 0 ? std::clamp(dot(p - a, ab) / squared, 0.0, 1.0) : 0;
    least = std::min(least, distance(p, a + t * ab));
  }
  return least;
}

/// Thins a ring; its first point and the point furthest from it stay.
Ring thinned(const Ring& ring) {
  std::size_t far = 0;
  for (std::size_t i = 1; i < ring.size(); ++i) {
    if (distance(ring[i], ring[0]) > distance(ring[far], ring[0])) far = i;
  }
  const auto middle = ring.begin() + static_cast<std::ptrdiff_t>(far);
  Polyline second(middle, ring.end());
  second.push_back(ring.front());
  Ring out = simplified(Polyline(ring.begin(), middle + 1), kDrawnTolerance);
  const Polyline back = simplified(second, kDrawnTolerance);
  out.insert(out.end(), back.begin() + 1, back.end() - 1);
  return out;
}

/// Slits are cut from inside towards the edge, so that the blade never pushes into their tip.
Polyline outward(const Polyline& slit, const Ring& outline) {
  Polyline out = simplified(slit, kDrawnTolerance);
  if (distance_to_ring(outline, out.front()) < distance_to_ring(outline, out.back())) {
    std::reverse(out.begin(), out.end());
  }
  return out;
}

std::vector<double> thinned_out(std::vector<double> places, std::size_t most) {
  if (places.size() <= most) return places;
  std::vector<double> out;
  for (std::size_t k = 0; k < most; ++k) out.push_back(places[k * places.size() / most]);
  return out;
}

double side_length(const Ring& ring, std::size_t i) {
  return distance(ring[i % ring.size()], ring[(i + 1) % ring.size()]);
}

/// The point `s` mm along the side that begins at vertex i.
Vec2 on_edge(const Ring& ring, std::size_t i, double s) {
  const Vec2 a = ring[i % ring.size()];
  const Vec2 b = ring[(i + 1) % ring.size()];
  const double whole = distance(a, b);
  return s >= whole ? b : a + (s / whole) * (b - a);
}

/// The side on which the place `at` mm along the ring lies, and how far along that side.
std::pair<std::size_t, double> edge_at(const Ring& ring, double at) {
  std::size_t edge = 0;
  for (; edge + 1 < ring.size() && at > side_length(ring, edge); ++edge)
    at -= side_length(ring, edge);
  return {edge, at};
}

}  // namespace

Vec2 point_along(const Ring& ring, double at) {
  const auto [edge, left] = edge_at(ring, at);
  return on_edge(ring, edge, left);
}

std::vector<double> entry_places(const Ring& ring, double clear, std::size_t most) {
  std::vector<double> straight;
  std::vector<double> all;
  double at = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const double side = distance(ring[i], ring[(i + 1) % ring.size()]);
    all.push_back(at + side / 2);
    const double free = side - 2 * clear;
    if (free >= 0) {
      const auto places = static_cast<std::size_t>(free / kLeastApart) + 1;
      for (std::size_t k = 0; k < places; ++k) {
        const double share =
            places == 1 ? 0.5 : static_cast<double>(k) / static_cast<double>(places - 1);
        straight.push_back(at + clear + share * free);
      }
    }
    at += side;
  }
  return thinned_out(straight.empty() ? all : straight, most);
}

Polyline opened_at(const Ring& ring, double at, double beyond) {
  const auto [edge, left] = edge_at(ring, at);
  const Vec2 start = on_edge(ring, edge, left);
  Polyline out{start};
  for (std::size_t k = 1; k <= ring.size(); ++k) out.push_back(ring[(edge + k) % ring.size()]);
  out.push_back(start);
  for (std::size_t i = edge; beyond > 0 && i < edge + 2 * ring.size(); ++i) {
    const double from = i == edge ? left : 0;
    const double rest = side_length(ring, i) - from;
    out.push_back(on_edge(ring, i, from + std::min(rest, beyond)));
    beyond -= rest;
  }
  return out;
}

std::vector<Line> lines_of(const std::vector<Shape>& shapes, const KnifeSettings& knife) {
  // A start must leave room for the overcut and for the blade to have settled.
  const double clear = knife.overcut.value + 2 * knife.blade_offset.value;
  std::vector<Line> lines;
  const auto add_ring = [&](std::size_t shape, ContourKind kind, const Ring& ring) {
    Line line{shape, kind, thinned(ring), {}, {}};
    line.starts = entry_places(line.points, clear, kMostStarts);
    lines.push_back(std::move(line));
  };
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    for (const Polyline& slit : shapes[i].slits) {
      if (length_of(slit) <= 0) continue;
      lines.push_back({i, ContourKind::slit, outward(slit, shapes[i].outline.outer), {}, {0}});
    }
    for (const Ring& hole : shapes[i].outline.holes) add_ring(i, ContourKind::hole, hole);
    add_ring(i, ContourKind::outline, shapes[i].outline.outer);
  }
  for (Line& line : lines) line.box = bounding_box(line.points);
  return lines;
}

std::vector<std::pair<std::size_t, std::size_t>> precedences(const std::vector<Line>& lines) {
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  const auto inside = [](const Line& small, const Line& hole) {
    return hole.box.contains(small.box.low) && hole.box.contains(small.box.high) &&
           side_of(std::span(hole.points), small.points.front()) != Side::outside;
  };
  for (std::size_t a = 0; a < lines.size(); ++a) {
    for (std::size_t b = 0; b < lines.size(); ++b) {
      if (a == b) continue;
      const bool own = lines[a].shape == lines[b].shape && lines[a].kind != ContourKind::outline &&
                       lines[b].kind == ContourKind::outline;
      const bool within = lines[a].shape != lines[b].shape &&
                          lines[a].kind == ContourKind::outline &&
                          lines[b].kind == ContourKind::hole && inside(lines[a], lines[b]);
      if (own || within) pairs.push_back({a, b});
    }
  }
  return pairs;
}

}  // namespace film::cutting::detail
