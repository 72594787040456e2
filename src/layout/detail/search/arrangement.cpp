#include "layout/detail/search/arrangement.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace film::layout::detail {
namespace {

constexpr int kWideSamples = 40;       // anywhere on the strip
constexpr int kNearSamples = 20;       // about the present place
constexpr std::size_t kRefined = 2;    // of the samples, the best few are refined
constexpr int kRounds = 10;            // of settling a spot
constexpr double kSettleWithin = 1.0;  // how far at once, of the piece's lesser extent
constexpr double kInfinity = std::numeric_limits<double>::infinity();

Vec2 clamped(const Box& box, Vec2 p) {
  return {std::clamp(p.x, box.low.x, box.high.x), std::clamp(p.y, box.low.y, box.high.y)};
}

}  // namespace

Box Room::origins(const Pose& pose) const {
  const Vec2 edge{slack, slack};
  Box box{low + edge - pose.box.low, high - edge - pose.box.high};
  if (box.high.x < box.low.x) box.low.x = box.high.x = low.x - pose.box.low.x;
  box.low.x = std::max(box.low.x, first_middle + slack - pose.centre.x);
  box.high.x = std::max(box.high.x, box.low.x);
  if (box.high.y < box.low.y) box.low.y = box.high.y = low.y - pose.box.low.y;
  return box;
}

double Room::least_reach(const Pose& pose) const {
  return std::max(low.x + pose.box.width(), first_middle + slack - pose.centre.x + pose.box.high.x);
}

Arrangement::Arrangement(const Engine& engine, std::vector<Body> bodies, Room room)
    : engine_(engine), bodies_(std::move(bodies)), room_(room), obstacles_(engine) {
  const std::size_t n = bodies_.size();
  overlap_.assign(n * n, 0);
  weight_.assign(n * n, 1);
  measure();
}

void Arrangement::reset(std::vector<Body> bodies, Room room) {
  bodies_ = std::move(bodies);
  room_ = room;
  measure();
}

void Arrangement::forget_weights(const Temper& temper) {
  temper_ = temper;
  std::fill(weight_.begin(), weight_.end(), 1.0F);
}

double Arrangement::reach() const {
  double reach = room_.low.x;
  for (const Body& body : bodies_) {
    if (!body.fixed) reach = std::max(reach, body.at.x + engine_.pose(body.pose).box.high.x);
  }
  return reach;
}

void Arrangement::slide_back() {
  const std::vector<Body> before = bodies_;
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t i = 0; i < bodies_.size(); ++i) {
    if (!bodies_[i].fixed) {
      order.emplace_back(bodies_[i].at.x + engine_.pose(bodies_[i].pose).box.low.x, i);
    }
  }
  std::sort(order.begin(), order.end());
  for (const auto& [low, body] : order) bodies_[body].at.x -= way_back(body);
  measure();
  if (total_ == 0) return;
  bodies_ = before;
  measure();
}

/// How far the body may slide along -x before it enters a region of conflict.
double Arrangement::way_back(std::size_t body) const {
  const Body& a = bodies_[body];
  const Box& own = engine_.pose(a.pose).box;
  const double reach = engine_.reach();
  double way = std::max(0.0, a.at.x - room_.origins(engine_.pose(a.pose)).low.x);
  for (std::size_t k = 0; k < bodies_.size(); ++k) {
    const Body& b = bodies_[k];
    const Box& box = engine_.pose(b.pose).box;
    if (k == body || b.at.y + box.low.y - reach > a.at.y + own.high.y ||
        b.at.y + box.high.y + reach < a.at.y + own.low.y ||
        b.at.x + box.low.x > a.at.x + own.high.x + reach ||
        b.at.x + box.high.x + reach < a.at.x + own.low.x - way) {
      continue;
    }
    const Relation relation = engine_.relation(a.pose, b.pose);
    const Vec2 from = relation.into_field(a.at - b.at);
    const Vec2 ahead = relation.into_field({-1, 0});
    for (const PairField::Segment& side : relation.field->boundary()) {
      const double entering = cross(side.along, ahead);  // the region lies to the left of a side
      if (entering < 1e-9) continue;
      const double t = cross(side.along, side.from - from) / entering;
      if (t < -engine_.slack() || t >= way) continue;
      const double along = dot(from + t * ahead - side.from, side.along);
      if (along >= -engine_.slack() && along <= side.length + engine_.slack()) {
        way = std::max(0.0, t);
      }
    }
  }
  return way;
}

void Arrangement::measure() {
  obstacles_.resize(bodies_.size());
  for (std::size_t i = 0; i < bodies_.size(); ++i) {
    obstacles_.put(i, bodies_[i].pose, bodies_[i].at);
  }
  std::fill(overlap_.begin(), overlap_.end(), 0);
  for (std::size_t i = 0; i < bodies_.size(); ++i) measure_row(i);
  total_ = 0;
  for (std::size_t i = 0; i < bodies_.size(); ++i) {
    for (std::size_t k = i + 1; k < bodies_.size(); ++k) total_ += overlap_[pair(i, k)];
  }
}

void Arrangement::measure_row(std::size_t body) {
  const Body& a = bodies_[body];
  for (std::size_t k = 0; k < bodies_.size(); ++k) {
    if (overlap_[pair(body, k)] == 0) continue;
    overlap_[pair(body, k)] = overlap_[pair(k, body)] = 0;
  }
  obstacles_.overlaps(body, overlaps_);
  for (const Obstacles::Overlap& found : overlaps_) {
    const Body& b = bodies_[found.other];
    if (a.fixed && b.fixed) continue;
    overlap_[pair(body, found.other)] = overlap_[pair(found.other, body)] =
        heft(a.pose, b.pose) * found.depth;
  }
}

double Arrangement::heft(std::uint32_t a, std::uint32_t b) const {
  return engine_.heft_of_kind(engine_.pose(a).kind) * engine_.heft_of_kind(engine_.pose(b).kind);
}

bool Arrangement::overlaps(std::size_t body) const {
  const auto row = overlap_.begin() + static_cast<std::ptrdiff_t>(pair(body, 0));
  return std::any_of(row, row + static_cast<std::ptrdiff_t>(bodies_.size()),
                     [](double v) { return v > 0; });
}

double Arrangement::weighted(std::size_t body) const {
  double sum = 0;
  for (std::size_t k = 0; k < bodies_.size(); ++k) {
    sum += overlap_[pair(body, k)] * static_cast<double>(weight_[pair(body, k)]);
  }
  return sum;
}

std::size_t Arrangement::pass(Rng& rng, const Context& context) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < bodies_.size(); ++i) {
    if (!bodies_[i].fixed && overlaps(i)) order.push_back(i);
  }
  rng.shuffle(order);
  for (const std::size_t body : order) {
    if (!overlaps(body)) continue;
    if (context.stopped()) break;
    const double present = weighted(body);
    const Spot spot = best_spot(body, rng);
    if (spot.value <= present) move(body, spot);
  }
  raise_weights();
  return order.size();
}

void Arrangement::move(std::size_t body, const Spot& spot) {
  bodies_[body].pose = spot.pose;
  bodies_[body].at = spot.at;
  obstacles_.put(body, spot.pose, spot.at);
  measure_row(body);
}

void Arrangement::raise_weights() {
  const std::size_t n = bodies_.size();
  double worst = 0;
  total_ = 0;
  conflicts_.clear();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = i + 1; k < n; ++k) {
      const double o = overlap_[pair(i, k)];
      if (o == 0) continue;
      conflicts_.push_back({i, k, o, weight_[pair(i, k)]});
      worst = std::max(worst, o);
      total_ += o;
    }
  }
  const auto decay = static_cast<float>(temper_.decay);
  for (float& w : weight_) w = std::max(1.0F, w * decay);
  for (const Conflict& c : conflicts_) {
    const double raise =
        temper_.least_raise + (temper_.most_raise - temper_.least_raise) * c.overlap / worst;
    const float w = std::min(c.weight * static_cast<float>(raise), 1e12F);
    weight_[pair(c.a, c.b)] = weight_[pair(c.b, c.a)] = w;
  }
}

void Arrangement::sample(std::size_t body, Rng& rng, std::vector<Spot>& best) {
  const Body& now = bodies_[body];
  const std::vector<std::uint32_t>& poses = engine_.poses_of(engine_.pose(now.pose).kind);
  const auto offer = [&](std::size_t index, Vec2 p) {
    if (room_.least_reach(engine_.pose(poses[index])) > room_.high.x) return;
    const double bound = best.size() < kRefined ? kInfinity : best.back().value;
    const double value = obstacles_.rough_value(poses[index], p, bound);
    if (value >= bound) return;
    if (best.size() == kRefined) best.pop_back();
    const Spot spot{static_cast<std::uint32_t>(index), p, value};
    best.insert(std::upper_bound(best.begin(), best.end(), spot,
                                 [](const Spot& a, const Spot& b) { return a.value < b.value; }),
                spot);
  };
  const Pose& pose = engine_.pose(now.pose);
  const Vec2 centre = now.at + pose.centre;
  for (std::size_t index = 0; index < poses.size(); ++index) {
    if (poses[index] == now.pose) offer(index, now.at);
  }
  for (int i = 0; i < kNearSamples; ++i) {
    const std::size_t index = rng.below(poses.size());
    const Pose& turned = engine_.pose(poses[index]);
    const double rx = turned.box.width() / 2;
    const double ry = turned.box.height() / 2;
    const Vec2 p{centre.x - turned.centre.x + rng.uniform(-rx, rx),
                 centre.y - turned.centre.y + rng.uniform(-ry, ry)};
    offer(index, clamped(room_.origins(turned), p));
  }
  for (int i = 0; i < kWideSamples; ++i) {
    const std::size_t index = rng.below(poses.size());
    const Box box = room_.origins(engine_.pose(poses[index]));
    offer(index, {rng.uniform(box.low.x, box.high.x), rng.uniform(box.low.y, box.high.y)});
  }
}

/// Goes to the least overlap near the spot. What stands in the way is taken for straight walls,
/// the nearest sides of the regions of conflict; the best place among those is asked what it is
/// really worth, which shows walls that were not seen before.
void Arrangement::settle(std::size_t body, Spot& spot, double radius) {
  const std::uint32_t pose = engine_.poses_of(engine_.pose(bodies_[body].pose).kind)[spot.pose];
  const Box box = room_.origins(engine_.pose(pose));
  walls_.clear();
  spot.value = obstacles_.value(pose, spot.at, walls_);
  for (int round = 0; round < kRounds && spot.value > 0; ++round) {
    const Vec2 p = least_beyond(walls_, box, spot.at, radius, engine_.slack() / 8);
    if (p == spot.at) return;
    const double value = obstacles_.value(pose, p, walls_);
    if (value < spot.value) {
      spot.at = p;
      spot.value = value;
    } else {
      radius /= 2;
    }
  }
}

Arrangement::Spot Arrangement::best_spot(std::size_t body, Rng& rng) {
  const std::vector<std::uint32_t>& poses = engine_.poses_of(engine_.pose(bodies_[body].pose).kind);
  obstacles_.ask_for(body, weight_.data() + pair(body, 0));
  std::vector<Spot> best;
  sample(body, rng, best);
  if (best.empty()) return {bodies_[body].pose, bodies_[body].at, kInfinity};
  const Box& size = engine_.pose(bodies_[body].pose).box;
  const double least = std::min(size.width(), size.height());
  for (Spot& spot : best) settle(body, spot, kSettleWithin * least);
  Spot chosen = *std::min_element(best.begin(), best.end(),
                                  [](const Spot& a, const Spot& b) { return a.value < b.value; });
  chosen.pose = poses[chosen.pose];
  return chosen;
}

}  // namespace film::layout::detail
