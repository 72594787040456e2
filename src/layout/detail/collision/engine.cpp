#include "layout/detail/collision/engine.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/assert.h"
#include "layout/detail/collision/convex_parts.h"
#include "layout/detail/collision/simplify.h"

namespace film::layout::detail {
namespace {

constexpr double kQuarter = std::numbers::pi / 2;
/// Turns no farther apart are the same.
constexpr double kSameTurn = 1e-12;
/// Sides that stand for a round corner turn by at most 30 degrees: 3.5 % of the gap too far.
constexpr double kGapTurn = std::numbers::pi / 6;
/// Without a gap the clearance is only slack; corners are cut off only where very sharp.
constexpr double kSlackTurn = 2.0;
/// Outlines may grow by this share of the strip's width where that saves corners.
constexpr double kSimplifyShare = 2e-4;
/// Cells along a field, see PairField.
constexpr double kCellsAlong = 32;
constexpr double kFewKinds = 20;
constexpr double kHeft = 0.25;

/// Fields are made for every pair of kinds, so their number grows with its square, or a short
/// search would end before it began: with many kinds outlines are simplified up to this much
/// more and fields have as many cells less.
double thrift(std::size_t kinds) {
  return std::clamp(static_cast<double>(kinds) / kFewKinds, 1.0, 4.0);
}

bool fits_across(const Pose& pose, const Problem& problem) { return fits(problem.strip, pose.box); }

/// The ring moved so that its box starts at the origin.
Ring settled(Ring ring) {
  const Vec2 low = bounding_box(std::span<const Vec2>(ring)).low;
  for (Vec2& p : ring) p -= low;
  return ring;
}

bool same_ring(const Ring& a, const Ring& b, double tolerance) {
  if (a.size() != b.size()) return false;
  for (std::size_t shift = 0; shift < b.size(); ++shift) {
    bool same = true;
    for (std::size_t i = 0; i < a.size() && same; ++i) {
      same = distance(a[i], b[(i + shift) % b.size()]) <= tolerance;
    }
    if (same) return true;
  }
  return false;
}

}  // namespace

Engine::Engine(const Problem& problem)
    : gap_(problem.strip.gap), slack_(kSlackShare * problem.strip.width) {
  for (const Item& item : problem.items) {
    std::size_t kind = 0;
    while (kind < areas_.size() && !(shapes_[kind] == item.shape && turns_[kind] == item.turns)) {
      ++kind;
    }
    kind_of_item_.push_back(kind);
    if (kind == areas_.size()) add_kind(item.shape, item.turns);
  }
  first_defect_ = areas_.size();
  for (const Polygon& defect : problem.strip.defects) add_defect(defect);
  const double tolerance = thrift(first_defect_) * kSimplifyShare * problem.strip.width;
  for (std::size_t kind = 0; kind < first_defect_; ++kind) {
    shapes_[kind] = simplified_outwards(shapes_[kind], tolerance);
  }
  for (std::size_t kind = 0; kind < areas_.size(); ++kind) {
    poses_of_.emplace_back();
    for (const Angle turn : turns_[kind]) {
      const std::uint32_t pose = append_pose(kind, turn.radians);
      if (kind >= first_defect_ || (fits_across(poses_[pose], problem) && looks_new(kind, pose))) {
        poses_of_[kind].push_back(pose);
      } else {
        poses_.pop_back();
      }
    }
  }
  reserve_fields();
  weigh_kinds();
}

void Engine::weigh_kinds() {
  double sum = 0;
  for (std::size_t kind = 0; kind < first_defect_; ++kind) sum += areas_[kind];
  const double usual = first_defect_ > 0 ? sum / static_cast<double>(first_defect_) : 1;
  for (std::size_t kind = 0; kind < areas_.size(); ++kind) {
    hefts_.push_back(std::pow(kind < first_defect_ ? areas_[kind] / usual : 1, kHeft));
  }
}

Engine::~Engine() {
  for (auto& slot : fields_) delete slot.load();
}

void Engine::add_kind(const Polygon& shape, const std::vector<Angle>& turns) {
  outlines_.push_back(shape.outer);
  shapes_.push_back(shape);
  turns_.push_back(turns);
  areas_.push_back(area(shape));
}

void Engine::add_defect(const Polygon& defect) {
  const Vec2 low = bounding_box(defect).low;
  const Polygon shape = film::apply(Placement{0, -low}, defect);
  for (std::size_t kind = first_defect_; kind < shapes_.size(); ++kind) {
    if (!shape.holes.empty() || !shapes_[kind].holes.empty()) continue;
    if (!same_ring(shape.outer, shapes_[kind].outer, slack_ / 4)) continue;
    defects_.push_back({kind, low});
    return;
  }
  defects_.push_back({shapes_.size(), low});
  add_kind(shape, {Angle{0}});
}

std::size_t Engine::base_shape(std::size_t kind, double turn) {
  for (std::size_t b = 0; b < base_keys_.size(); ++b) {
    if (base_keys_[b].kind == kind && std::abs(base_keys_[b].turn - turn) < kSameTurn) return b;
  }
  Shape shape;
  shape.defect = kind >= first_defect_;
  for (const ConvexPart& part : convex_parts(shapes_[kind])) {
    shape.parts.push_back(turned(part, Angle{turn}));
  }
  bases_.push_back(std::move(shape));
  base_keys_.push_back({kind, turn});
  return bases_.size() - 1;
}

std::uint32_t Engine::append_pose(std::size_t kind, double turn) {
  const double quarters = std::floor(turn / kQuarter + 1e-9);
  Pose pose;
  pose.kind = kind;
  pose.turn = turn;
  pose.quarter = static_cast<int>(static_cast<long long>(quarters) & 3);
  const double rest = turn - quarters * kQuarter;
  pose.base = base_shape(kind, std::abs(rest) < kSameTurn ? 0.0 : rest);
  const auto box_of = [turn](const Ring& ring) {
    const Ring turned = film::apply(Placement{turn, {}}, std::span<const Vec2>(ring));
    return bounding_box(std::span(turned));
  };
  pose.box = box_of(shapes_[kind].outer);
  pose.centre = box_of(outlines_[kind]).centre();
  poses_.push_back(pose);
  return static_cast<std::uint32_t>(poses_.size() - 1);
}

bool Engine::looks_new(std::size_t kind, std::uint32_t pose) const {
  if (!shapes_[kind].holes.empty()) return true;
  const auto outline = [&](std::uint32_t p) {
    return settled(
        film::apply(Placement{poses_[p].turn, {}}, std::span<const Vec2>(shapes_[kind].outer)));
  };
  const Ring candidate = outline(pose);
  return std::none_of(poses_of_[kind].begin(), poses_of_[kind].end(), [&](std::uint32_t other) {
    return same_ring(candidate, outline(other), slack_);
  });
}

std::uint32_t Engine::nearest_pose(std::size_t kind, double turn) const {
  std::uint32_t best = poses_of_[kind].front();
  double least = 10;
  for (const std::uint32_t p : poses_of_[kind]) {
    const double off = std::abs(std::remainder(poses_[p].turn - turn, 4 * kQuarter));
    if (off < least) {
      least = off;
      best = p;
    }
  }
  return best;
}

std::uint32_t Engine::add_pose(std::size_t kind, double turn) {
  for (std::uint32_t p = 0; p < poses_.size(); ++p) {
    if (poses_[p].kind == kind && std::abs(poses_[p].turn - turn) < kSameTurn) return p;
  }
  const std::size_t bases = bases_.size();
  const std::uint32_t pose = append_pose(kind, turn);
  if (bases_.size() != bases) reserve_fields();
  return pose;
}

/// Room for a field of every pair of bases. Called before any field is made.
void Engine::reserve_fields() {
  const std::size_t n = bases_.size();
  for (auto& slot : fields_) delete slot.load();
  fields_ = std::vector<std::atomic<PairField*>>(n * (n + 1) / 2 * 4);
}

std::size_t Engine::field_count() const { return fields_.size(); }

std::unique_ptr<PairField> Engine::make_field(std::size_t fixed, std::size_t moving,
                                              int quarter) const {
  const bool plain = bases_[fixed].defect || bases_[moving].defect || gap_ == 0;
  const double clearance = plain ? slack_ : gap_ + slack_;
  const double widest = plain ? kSlackTurn : kGapTurn;
  std::vector<ConvexSum> sums;
  for (const ConvexPart& part : bases_[moving].parts) {
    const ConvexPart facing = negated(turned(part, Angle{quarter * kQuarter}));
    for (const ConvexPart& other : bases_[fixed].parts) {
      sums.push_back(inflated_sum(other, facing, clearance, widest));
    }
  }
  const double cells_along = kCellsAlong / std::sqrt(thrift(first_defect_));
  return std::make_unique<PairField>(std::move(sums), slack_ / 2, cells_along);
}

const PairField& Engine::field(std::size_t fixed, std::size_t moving, int quarter) const {
  FILM_ASSERT(fixed <= moving);
  auto& slot = fields_[(moving * (moving + 1) / 2 + fixed) * 4 + static_cast<std::size_t>(quarter)];
  if (const PairField* made = slot.load(std::memory_order_acquire)) return *made;
  std::unique_ptr<PairField> fresh = make_field(fixed, moving, quarter);
  PairField* expected = nullptr;
  // Another thread may have made the same field meanwhile; then ours is dropped.
  if (slot.compare_exchange_strong(expected, fresh.get(), std::memory_order_acq_rel)) {
    return *fresh.release();
  }
  return *expected;
}

Relation Engine::relation(std::uint32_t first, std::uint32_t second) const {
  const Pose& a = poses_[first];
  const Pose& b = poses_[second];
  const bool second_fixed = b.base <= a.base;
  const Pose& fixed = second_fixed ? b : a;
  const Pose& moving = second_fixed ? a : b;
  constexpr double kCosine[] = {1, 0, -1, 0};
  constexpr double kSine[] = {0, 1, 0, -1};
  const double sign = second_fixed ? 1 : -1;
  return {&field(fixed.base, moving.base, (moving.quarter - fixed.quarter) & 3),
          sign * kCosine[fixed.quarter], sign * kSine[fixed.quarter]};
}

void Engine::make_fields(const Context& context) const {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> pairs;
  for (std::size_t a = 0; a < first_defect_; ++a) {
    for (std::size_t b = 0; b <= a; ++b) {
      for (const std::uint32_t first : poses_of_[a]) {
        for (const std::uint32_t second : poses_of_[b]) pairs.emplace_back(first, second);
      }
    }
  }
  context.executor().run(pairs.size(), [&](std::size_t i) {
    if (!context.stopped()) static_cast<void>(relation(pairs[i].first, pairs[i].second));
  });
}

}  // namespace film::layout::detail
