#include "layout/solution.h"

#include <algorithm>

namespace film::layout {

Polygon outline_of(const Problem& problem, const PlacedPiece& piece) {
  return film::apply(piece.placement, problem.items[piece.item].shape);
}

double length_of(const Problem& problem, const std::vector<PlacedPiece>& placements) {
  double reach = problem.strip.margins.start;
  for (const PlacedPiece& piece : placements) {
    const Ring outer =
        film::apply(piece.placement, std::span<const Vec2>(problem.items[piece.item].shape.outer));
    reach = std::max(reach, bounding_box(std::span(outer)).high.x);
  }
  return placements.empty() ? 0 : reach + problem.strip.margins.end;
}

double density_of(const Problem& problem, const std::vector<PlacedPiece>& placements,
                  double length) {
  if (!(length > 0)) return 0;
  double sum = 0;
  for (const PlacedPiece& piece : placements) sum += area(problem.items[piece.item].shape);
  return sum / (problem.strip.width * length);
}

}  // namespace film::layout
