#pragma once

#include <algorithm>
#include <vector>

#include "cutting/plan.h"
#include "formats/hpgl.h"
#include "support/slow_machine.h"

/// Looks at the film that a simulated machine has cut, as a person would.
namespace film::test {

/// What the machine is asked to cut, contour by contour: the strokes of the whole job's file. For a
/// drag knife without blade offset, which needs no alignment and no re-entry.
inline std::vector<std::vector<Spot>> asked_of(const std::string& file) {
  std::vector<std::vector<Spot>> asked;
  const auto plot = formats::read_hpgl(file).value();
  for (const auto& stroke : plot.strokes) {
    if (!stroke.down) continue;
    asked.emplace_back();
    for (const auto p : stroke.points) asked.back().push_back({p.x, p.y});
  }
  return asked;
}

struct Seen {
  std::size_t whole = 0;    ///< times that the contour was cut from end to end
  std::size_t partial = 0;  ///< times that it was begun and left
};

inline Seen look(const std::vector<std::vector<Spot>>& marks, const std::vector<Spot>& contour) {
  Seen seen;
  for (const auto& mark : marks) {
    if (mark == contour) {
      ++seen.whole;
    } else if (mark.size() < contour.size() &&
               std::equal(mark.begin(), mark.end(), contour.begin())) {
      ++seen.partial;
    }
  }
  return seen;
}

/// How far along the roll the knife has left a mark, in plotter units.
inline long far_end(const std::vector<std::vector<Spot>>& marks) {
  long far = 0;
  for (const auto& mark : marks) {
    for (const Spot p : mark) far = std::max(far, p.x);
  }
  return far;
}

}  // namespace film::test
