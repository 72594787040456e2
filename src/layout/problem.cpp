#include "layout/problem.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <unordered_set>

#include "base/text.h"
#include "geometry/hull.h"
#include "geometry/overlay.h"

namespace film::layout {
namespace {

constexpr std::size_t kMostCopies = 1'000'000;

Failure refused(std::string what, std::string where, std::string remedy = {}) {
  return fail(ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy));
}

bool is_length(double value) { return std::isfinite(value) && value >= 0; }

double height_in(const Item& item, double turn) {
  const Ring turned = film::apply(Placement{turn, {}}, std::span<const Vec2>(item.shape.outer));
  return bounding_box(std::span(turned)).height();
}

/// The least width of a convex ring is attained square to one of its edges (Houle, Toussaint,
/// "Computing the width of a set", 1988).
std::vector<Angle> turns_along_hull(const Item& item) {
  const Ring hull = convex_hull(item.shape.outer);
  std::vector<Angle> turns;
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec2 edge = hull[(i + 1) % hull.size()] - hull[i];
    turns.push_back(Angle{-std::atan2(edge.y, edge.x)});
  }
  return turns;
}

bool is_finite(const Polygon& shape) {
  const auto finite = [](const Ring& ring) {
    return std::all_of(ring.begin(), ring.end(),
                       [](Vec2 p) { return std::isfinite(p.x) && std::isfinite(p.y); });
  };
  return finite(shape.outer) && std::all_of(shape.holes.begin(), shape.holes.end(), finite);
}

std::optional<Error> fault_of_strip(const Strip& strip) {
  const Margins& m = strip.margins;
  if (!is_length(strip.width) || strip.width == 0) {
    return refused("the width must be a positive number", "strip").value();
  }
  if (!is_length(strip.gap) || !is_length(m.start) || !is_length(m.end) || !is_length(m.low) ||
      !is_length(m.high)) {
    return refused("gap and margins must be 0 or more", "strip").value();
  }
  if (m.low + m.high >= strip.width) {
    return refused("the margins leave no width to lay pieces on", "strip").value();
  }
  if (!(strip.maximum_length > 0)) {
    return refused("the maximum length must be positive", "strip").value();
  }
  if (!is_length(strip.frame)) {
    return refused("a frame's length must be 0 or more", "strip").value();
  }
  for (const Polygon& defect : strip.defects) {
    if (!is_finite(defect)) {
      return refused("a defect's coordinate is not a finite number", "strip").value();
    }
  }
  return std::nullopt;
}

std::optional<Error> fault_of_item(const Item& item) {
  const std::string where = "item " + item.id;
  if (item.quantity < 0) return refused("the quantity is negative", where).value();
  if (item.shape.outer.size() < 3 || !(area(item.shape) > 0)) {
    return refused("the shape has no area", where).value();
  }
  if (!is_finite(item.shape)) {
    return refused("a coordinate is not a finite number", where).value();
  }
  for (const Angle turn : item.turns) {
    if (!std::isfinite(turn.radians)) return refused("a turn is not a number", where).value();
  }
  return std::nullopt;
}

}  // namespace

Strip strip_of_offcut(const Polygon& outline, double gap) {
  const Box box = bounding_box(outline);
  const Polygon settled = film::apply(Placement{0, -box.low}, outline);
  Strip strip;
  strip.width = box.height();
  strip.maximum_length = box.width();
  strip.gap = gap;
  const Polygon whole{{{0, 0}, {box.width(), 0}, {box.width(), box.height()}, {0, box.height()}},
                      {}};
  strip.defects = without(whole, settled);
  return strip;
}

bool fits(const Strip& strip, const Box& box) {
  const Margins& m = strip.margins;
  return box.height() <= strip.width - m.low - m.high &&
         box.width() <= strip.maximum_length - m.start - m.end &&
         (strip.frame == 0 || box.width() <= strip.frame);
}

std::vector<std::string> groups_of(const Problem& problem) {
  std::vector<std::string> groups;
  for (const Item& item : problem.items) {
    if (std::find(groups.begin(), groups.end(), item.group) == groups.end()) {
      groups.push_back(item.group);
    }
  }
  return groups;
}

std::size_t copies_in(const Problem& problem) {
  std::size_t count = 0;
  for (const Item& item : problem.items) count += static_cast<std::size_t>(item.quantity);
  return count;
}

double area_of(const Problem& problem) {
  double sum = 0;
  for (const Item& item : problem.items) sum += item.quantity * area(item.shape);
  return sum;
}

Angle narrowest_turn(const Item& item) {
  const std::vector<Angle> turns = item.turns.empty() ? turns_along_hull(item) : item.turns;
  return *std::min_element(turns.begin(), turns.end(), [&](Angle a, Angle b) {
    return height_in(item, a.radians) < height_in(item, b.radians);
  });
}

double least_width(const Item& item) { return height_in(item, narrowest_turn(item).radians); }

std::optional<Error> fault_of(const Problem& problem) {
  if (auto fault = fault_of_strip(problem.strip)) return fault;
  std::unordered_set<std::string> ids;
  for (const Item& item : problem.items) {
    if (auto fault = fault_of_item(item)) return fault;
    if (!ids.insert(item.id).second) {
      return refused("two items have this id", "item " + item.id).value();
    }
  }
  if (copies_in(problem) > kMostCopies) {
    return Error{ErrorCode::too_large,
                 format("{} copies are past the limit of {}", copies_in(problem), kMostCopies),
                 "items",
                 {}};
  }
  return std::nullopt;
}

}  // namespace film::layout
