#include "layout/detail/search/obstacles.h"

#include <bit>
#include <limits>

#if defined(__SSE2__)
#include <emmintrin.h>
#endif

namespace film::layout::detail {
namespace {

/// Poses whose relations are kept, two megabytes of them at most.
constexpr std::size_t kMostKept = 300;

struct Extent {
  float low_x, high_x, low_y, high_y;
};

/// A bit for each of the four that the box touches.
template <class Four>
unsigned met(const Four& f, const Extent& box) {
#if defined(__SSE2__)
  const __m128 in_x = _mm_and_ps(_mm_cmple_ps(_mm_loadu_ps(f.low_x), _mm_set1_ps(box.high_x)),
                                 _mm_cmpge_ps(_mm_loadu_ps(f.high_x), _mm_set1_ps(box.low_x)));
  const __m128 in_y = _mm_and_ps(_mm_cmple_ps(_mm_loadu_ps(f.low_y), _mm_set1_ps(box.high_y)),
                                 _mm_cmpge_ps(_mm_loadu_ps(f.high_y), _mm_set1_ps(box.low_y)));
  return static_cast<unsigned>(_mm_movemask_ps(_mm_and_ps(in_x, in_y)));
#else
  unsigned bits = 0;
  for (unsigned k = 0; k < 4; ++k) {
    const bool in = f.low_x[k] <= box.high_x && f.high_x[k] >= box.low_x &&
                    f.low_y[k] <= box.high_y && f.high_y[k] >= box.low_y;
    bits |= static_cast<unsigned>(in) << k;
  }
  return bits;
#endif
}

}  // namespace

Obstacles::Obstacles(const Engine& engine) : engine_(&engine), poses_(engine.pose_count()) {
  if (poses_ <= kMostKept) relations_.resize(poses_ * poses_);
}

void Obstacles::resize(std::size_t count) {
  constexpr float kNever = std::numeric_limits<float>::infinity();
  others_.assign(count, {});
  Four none{};
  for (float& low : none.low_x) low = kNever;
  extents_.assign((count + 3) / 4, none);
}

void Obstacles::put(std::size_t body, std::uint32_t pose, Vec2 at) {
  const Pose& as = engine_->pose(pose);
  Four& four = extents_[body / 4];
  const std::size_t lane = body % 4;
  four.low_x[lane] = static_cast<float>(at.x + as.box.low.x);
  four.high_x[lane] = static_cast<float>(at.x + as.box.high.x);
  four.low_y[lane] = static_cast<float>(at.y + as.box.low.y);
  four.high_y[lane] = static_cast<float>(at.y + as.box.high.y);
  others_[body] = {at, engine_->heft_of_kind(as.kind), 0, pose};
}

void Obstacles::ask_for(std::size_t body, const float* weights) {
  body_ = body;
  const double heft = others_[body].heft;
  for (std::size_t k = 0; k < others_.size(); ++k) {
    others_[k].weight = heft * others_[k].heft * static_cast<double>(weights[k]);
  }
}

inline const Relation& Obstacles::relation(std::uint32_t pose, std::uint32_t other) {
  if (relations_.empty()) return last_ = engine_->relation(pose, other);
  Relation& kept = relations_[pose * poses_ + other];
  if (kept.field == nullptr) kept = engine_->relation(pose, other);
  return kept;
}

/// Calls `visit(index, relation, place in the field's frame, weight)` for the bodies that may be
/// met at `p`, until it says false.
template <class Visit>
void Obstacles::visit(std::uint32_t pose, Vec2 p, Visit&& visit) {
  const Pose& own = engine_->pose(pose);
  const double reach = engine_->reach();
  const Extent box{static_cast<float>(p.x + own.box.low.x - reach),
                   static_cast<float>(p.x + own.box.high.x + reach),
                   static_cast<float>(p.y + own.box.low.y - reach),
                   static_cast<float>(p.y + own.box.high.y + reach)};
  for (std::size_t four = 0; four < extents_.size(); ++four) {
    for (unsigned bits = met(extents_[four], box); bits != 0; bits &= bits - 1) {
      const std::size_t index = 4 * four + static_cast<std::size_t>(std::countr_zero(bits));
      if (index == body_) continue;
      const Other& other = others_[index];
      const Relation& relation = this->relation(pose, other.pose);
      if (!visit(index, relation, relation.into_field(p - other.at), other.weight)) return;
    }
  }
}

void Obstacles::overlaps(std::size_t body, std::vector<Overlap>& out) {
  body_ = body;
  out.clear();
  visit(others_[body].pose, others_[body].at,
        [&](std::size_t index, const Relation& relation, Vec2 d, double) {
          const double depth = relation.field->depth(d);
          if (depth > 0) out.push_back({index, depth});
          return true;
        });
}

double Obstacles::value(std::uint32_t pose, Vec2 p, double bound) {
  double sum = 0;
  visit(pose, p, [&](std::size_t, const Relation& relation, Vec2 d, double weight) {
    sum += weight * relation.field->depth(d, (bound - sum) / weight);
    return sum < bound;
  });
  return sum;
}

double Obstacles::rough_value(std::uint32_t pose, Vec2 p, double bound) {
  double sum = 0;
  visit(pose, p, [&](std::size_t, const Relation& relation, Vec2 d, double weight) {
    sum += weight * relation.field->rough_depth(d);
    return sum < bound;
  });
  return sum;
}

double Obstacles::value(std::uint32_t pose, Vec2 p, std::vector<Wall>& walls) {
  double sum = 0;
  visit(pose, p, [&](std::size_t index, const Relation& relation, Vec2 d, double weight) {
    const PairField::WayOut out = relation.field->way_out(d);
    if (out.depth == 0) return true;
    sum += weight * out.depth;
    const Vec2 on = others_[index].at + relation.from_field(out.to);
    raise_wall(walls, {on, relation.from_field(out.inward), weight, index});
    return true;
  });
  return sum;
}

}  // namespace film::layout::detail
