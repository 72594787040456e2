#include "layout/detail/search/obstacles.h"

#include <bit>
#include <limits>

#include "base/assert.h"

#if defined(__SSE2__)
#include <emmintrin.h>
#endif

namespace film::layout::detail {
namespace {

/// Poses whose meetings are kept, six megabytes of them at most.
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
  if (poses_ <= kMostKept) meetings_.resize(poses_ * poses_);
}

void Obstacles::resize(std::size_t count) {
  constexpr float kNever = std::numeric_limits<float>::infinity();
  others_.assign(count, {});
  Four none{};
  for (float& low : none.low_x) low = kNever;
  extents_.assign((count + 3) / 4, none);
}

void Obstacles::put(std::size_t body, std::uint32_t pose, Vec2 at) {
  FILM_ASSERT(pose < poses_);
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

Obstacles::Meeting Obstacles::meeting_of(const Relation& relation) {
  const PairField& field = *relation.field;
  const PairField::Rough& rough = field.rough();
  const double per_x = rough.columns / field.box().width();
  const double per_y = rough.rows / field.box().height();
  Meeting m;
  m.relation = relation;
  m.steps = rough.steps.data();
  m.step = static_cast<float>(rough.step);
  m.column_x = static_cast<float>(per_x * relation.c);
  m.column_y = static_cast<float>(per_x * relation.s);
  m.column_0 = static_cast<float>(-per_x * field.box().low.x);
  m.row_x = static_cast<float>(-per_y * relation.s);
  m.row_y = static_cast<float>(per_y * relation.c);
  m.row_0 = static_cast<float>(-per_y * field.box().low.y);
  m.columns = static_cast<std::uint16_t>(rough.columns);
  m.rows = static_cast<std::uint16_t>(rough.rows);
  return m;
}

inline double Obstacles::Meeting::rough_depth(Vec2 d) const {
  const auto x = static_cast<float>(d.x);
  const auto y = static_cast<float>(d.y);
  const float column = column_x * x + column_y * y + column_0;
  const float row = row_x * x + row_y * y + row_0;
  if (!(column >= 0 && row >= 0)) return 0;
  const auto c = static_cast<std::int32_t>(column);
  const auto r = static_cast<std::int32_t>(row);
  if (c >= columns || r >= rows) return 0;
  return static_cast<double>(step * static_cast<float>(steps[r * columns + c]));
}

inline const Obstacles::Meeting& Obstacles::meeting(std::uint32_t pose, std::uint32_t other) {
  if (meetings_.empty()) return last_ = meeting_of(engine_->relation(pose, other));
  Meeting& kept = meetings_[pose * poses_ + other];
  if (kept.steps == nullptr) kept = meeting_of(engine_->relation(pose, other));
  return kept;
}

/// Calls `visit(index, meeting, place of the one asked for from the other's, weight)` for the
/// bodies that may be met at `p`, until it says false.
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
      if (!visit(index, meeting(pose, other.pose), p - other.at, other.weight)) return;
    }
  }
}

void Obstacles::overlaps(std::size_t body, std::vector<Overlap>& out) {
  body_ = body;
  out.clear();
  visit(others_[body].pose, others_[body].at,
        [&](std::size_t index, const Meeting& meeting, Vec2 d, double) {
          const double depth = meeting.relation.depth(d);
          if (depth > 0) out.push_back({index, depth});
          return true;
        });
}

double Obstacles::value(std::uint32_t pose, Vec2 p, double bound) {
  double sum = 0;
  visit(pose, p, [&](std::size_t, const Meeting& meeting, Vec2 d, double weight) {
    sum += weight * meeting.relation.depth(d, (bound - sum) / weight);
    return sum < bound;
  });
  return sum;
}

double Obstacles::rough_value(std::uint32_t pose, Vec2 p, double bound) {
  double sum = 0;
  visit(pose, p, [&](std::size_t, const Meeting& meeting, Vec2 d, double weight) {
    sum += weight * meeting.rough_depth(d);
    return sum < bound;
  });
  return sum;
}

double Obstacles::value(std::uint32_t pose, Vec2 p, std::vector<Wall>& walls) {
  double sum = 0;
  visit(pose, p, [&](std::size_t index, const Meeting& meeting, Vec2 d, double weight) {
    const Relation& relation = meeting.relation;
    const PairField::WayOut out = relation.field->way_out(relation.into_field(d));
    if (out.depth == 0) return true;
    sum += weight * out.depth;
    const Vec2 on = others_[index].at + relation.from_field(out.to);
    raise_wall(walls, {on, relation.from_field(out.inward), weight, index});
    return true;
  });
  return sum;
}

}  // namespace film::layout::detail
