#pragma once

#include <array>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "geometry/overlay.h"

namespace film::detail {

/// A line from the lexicographically smaller end to the larger, with what each layer's winding
/// number gains when it is crossed from right to left.
struct WindingLine {
  Vec2 from, to;
  Overlay::Windings weight{};
};

constexpr bool before(Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); }

Vec2 on_grid(Vec2 p, double grid);

/// Turns the line so that it runs from the smaller end; zero-length lines stay as they are.
WindingLine directed(Vec2 from, Vec2 to, Overlay::Windings weight);

/// Splits lines until no two share a point other than a common end, then merges equal lines and
/// drops those that change no winding number. Errors: cancelled.
Result<std::vector<WindingLine>> planar(std::vector<WindingLine> lines, const Context& context);

struct Sides {
  Overlay::Windings right{}, left{};
};

/// Winding numbers on both sides of every line of a planar set, in its order.
/// Cost: O(n log n + n a), a lines open at the sweep.
std::vector<Sides> windings(const std::vector<WindingLine>& lines);

}  // namespace film::detail
