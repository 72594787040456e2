#include "cutting/plan.h"

namespace film::cutting {
namespace {

void add_stroke(std::vector<KnifeMove>& moves, Vec2& at, const Stroke& stroke,
                std::optional<std::size_t> contour) {
  moves.push_back({Phase::travel, contour, {at, stroke.axis.front()}});
  for (std::size_t i = 0; i < stroke.phases.size(); ++i) {
    if (moves.back().phase != stroke.phases[i]) {
      moves.push_back({stroke.phases[i], contour, {stroke.axis[i]}});
    }
    moves.back().axis.push_back(stroke.axis[i + 1]);
  }
  at = stroke.axis.back();
}

}  // namespace

std::vector<KnifeMove> moves_of(const CutPlan& plan) {
  std::vector<KnifeMove> moves;
  Vec2 at = plan.home;
  if (!plan.alignment.axis.empty()) add_stroke(moves, at, plan.alignment, std::nullopt);
  for (std::size_t k = 0; k < plan.contours.size(); ++k) {
    for (const Stroke& stroke : plan.contours[k].strokes) add_stroke(moves, at, stroke, k);
  }
  return moves;
}

}  // namespace film::cutting
