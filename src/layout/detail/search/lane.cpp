#include "layout/detail/search/lane.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

namespace film::layout::detail {
namespace {

struct Patience {
  int idle;     // passes without clear progress that end a strike
  int strikes;  // idle strikes that end an attempt
};
constexpr Patience kExplore{200, 3};
constexpr Patience kCompress{100, 5};
/// The first is quick to spread the pieces and forgets soon; those that remember longer settle
/// where few large pieces must find their order. None is best on all problems.
constexpr Temper kTempers[] = {{1.2, 2.0, 0.95}, {1.1, 1.5, 0.99}, {1.2, 2.0, 0.99}};
constexpr double kClearProgress = 0.98;
/// Large steps are given up soon: a smaller one is likely to do.
constexpr int kHastyIdle = 50;
constexpr int kQuickSuccess = 60;
/// How often an attempt that follows a failed one begins with two pieces exchanged.
constexpr double kExchange = 0.5;
constexpr double kMostRate = 0.05;
constexpr double kLeastRate = 0.001;
constexpr double kCompressFirst = 0.002;
constexpr double kCompressMost = 0.005;
constexpr double kCompressLeast = 0.00001;

double normal(Rng& rng) {  // Box and Muller
  const double radius = std::sqrt(-2 * std::log(1 - rng.uniform()));
  return radius * std::cos(2 * std::numbers::pi * rng.uniform());
}

}  // namespace

Lane::Lane(const Engine& engine, Found first, Room room, double shortest, std::uint64_t seed)
    : engine_(engine),
      rng_(seed),
      room_(room),
      shortest_(shortest),
      best_(std::move(first)),
      arrangement_(engine, best_.bodies, room),
      explore_rate_(kMostRate),
      compress_rate_(kCompressFirst) {}

void Lane::adopt(const Found& found) {
  best_ = found;
  if (phase_ == Phase::compress || target_ >= found.reach * (1 - kLeastRate)) {
    open_ = false;
    failed_.clear();
  }
}

std::uint64_t Lane::run(std::uint64_t passes, std::size_t moves, Phase phase,
                        const Context& context) {
  if (phase != phase_) {
    open_ = false;
    failed_.clear();
  }
  phase_ = phase;
  std::uint64_t done = 0;
  for (std::size_t tried = 0; done < passes && tried < moves && !context.stopped(); ++done) {
    if (!open_ && !(best_.reach > shortest_)) break;
    if (!open_) shrink();
    tried += 1 + step(context);
  }
  return done;
}

double Lane::next_reach() const {
  const double rate = phase_ == Phase::explore ? explore_rate_ : compress_rate_;
  return std::max(shortest_, best_.reach * (1 - rate));
}

bool Lane::hasty() const { return phase_ == Phase::explore && explore_rate_ > 2 * kLeastRate; }

/// Cuts a slice out of the best layout: what lies beyond a random x moves back.
void Lane::shrink() {
  std::vector<Body> bodies = best_.bodies;
  const double reach = next_reach();
  const double cut = rng_.uniform(room_.low.x, best_.reach);
  for (Body& body : bodies) {
    if (!body.fixed && body.at.x + engine_.pose(body.pose).centre.x > cut) {
      body.at.x -= best_.reach - reach;
    }
  }
  begin(bodies, reach);
}

void Lane::begin(const std::vector<Body>& from, double reach) {
  target_ = reach;
  room_.high.x = reach;
  std::vector<Body> bodies = from;
  for (Body& body : bodies) {
    if (body.fixed) continue;
    if (room_.least_reach(engine_.pose(body.pose)) > room_.high.x) {
      for (const std::uint32_t p : engine_.poses_of(engine_.pose(body.pose).kind)) {
        if (room_.least_reach(engine_.pose(p)) <= room_.high.x) body.pose = p;
      }
    }
    const Box box = room_.origins(engine_.pose(body.pose));
    body.at = {std::clamp(body.at.x, box.low.x, box.high.x),
               std::clamp(body.at.y, box.low.y, box.high.y)};
  }
  const std::size_t pick = hasty() ? 0 : rng_.below(std::size(kTempers));
  arrangement_.forget_weights(kTempers[pick]);
  arrangement_.reset(std::move(bodies), room_);
  least_ = arrangement_.total_overlap();
  least_bodies_ = arrangement_.bodies();
  least_at_strike_ = least_;
  idle_ = 0;
  strikes_ = 0;
  passes_ = 0;
  open_ = true;
}

/// One pass; answers the moves that were tried in it.
std::size_t Lane::step(const Context& context) {
  std::size_t tried = 0;
  if (least_ > 0) {
    tried = arrangement_.pass(rng_, context);
    ++passes_;
  }
  judge(arrangement_.total_overlap());
  return tried;
}

void Lane::judge(double total) {
  if (total == 0) return succeed();
  if (total < least_) {
    idle_ = total < kClearProgress * least_ ? 0 : idle_ + 1;
    least_ = total;
    least_bodies_ = arrangement_.bodies();
  } else {
    ++idle_;
  }
  const Patience patience = phase_ == Phase::explore ? kExplore : kCompress;
  if (idle_ >= (hasty() ? kHastyIdle : patience.idle)) strike_out();
}

void Lane::succeed() {
  best_ = {arrangement_.bodies(), arrangement_.reach()};
  failed_.clear();
  open_ = false;
  if (phase_ == Phase::compress) {
    compress_rate_ = std::min(kCompressMost, 1.5 * compress_rate_);
  } else if (passes_ < kQuickSuccess) {
    explore_rate_ = std::min(kMostRate, 2 * explore_rate_);
  }
}

void Lane::strike_out() {
  const Patience patience = phase_ == Phase::explore ? kExplore : kCompress;
  strikes_ = least_ < kClearProgress * least_at_strike_ ? 0 : strikes_ + 1;
  least_at_strike_ = least_;
  idle_ = 0;
  if (hasty()) {
    explore_rate_ = std::max(kLeastRate, explore_rate_ / 2);
    open_ = false;
    return;
  }
  if (strikes_ >= patience.strikes) return give_up();
  arrangement_.reset(least_bodies_, room_);
}

/// Exploration goes on from one of the failed attempts, likely a good one, as it is or with two
/// large pieces exchanged; compression tries another cut.
void Lane::give_up() {
  open_ = false;
  if (phase_ == Phase::compress) {
    compress_rate_ = std::max(kCompressLeast, 0.7 * compress_rate_);
    return;
  }
  const auto at = std::upper_bound(failed_.begin(), failed_.end(), least_,
                                   [](double v, const auto& entry) { return v < entry.first; });
  failed_.insert(at, {least_, least_bodies_});
  const double pick = std::min(0.999, std::abs(normal(rng_)) * 0.25);
  std::vector<Body> bodies =
      failed_[static_cast<std::size_t>(pick * static_cast<double>(failed_.size()))].second;
  if (rng_.uniform() < kExchange) disrupt(bodies);
  begin(bodies, target_);
}

/// Exchanges two different large pieces.
void Lane::disrupt(std::vector<Body>& bodies) {
  std::vector<std::size_t> large;
  double sum = 0;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    if (!bodies[i].fixed) large.push_back(i);
  }
  const auto area_of = [&](std::size_t i) {
    return engine_.area_of_kind(engine_.pose(bodies[i].pose).kind);
  };
  std::stable_sort(large.begin(), large.end(),
                   [&](std::size_t a, std::size_t b) { return area_of(a) > area_of(b); });
  for (const std::size_t i : large) sum += area_of(i);
  double part = 0;
  std::size_t count = 0;
  while (count < large.size() && (part < 0.75 * sum || count < 2)) part += area_of(large[count++]);
  for (int attempt = 0; attempt < 20 && count > 1; ++attempt) {
    const std::size_t a = large[rng_.below(count)];
    const std::size_t b = large[rng_.below(count)];
    const Pose& pa = engine_.pose(bodies[a].pose);
    const Pose& pb = engine_.pose(bodies[b].pose);
    if (pa.kind == pb.kind) continue;
    const Vec2 ca = bodies[a].at + pa.centre;
    const Vec2 cb = bodies[b].at + pb.centre;
    bodies[a].at = cb - pa.centre;
    bodies[b].at = ca - pb.centre;
    return;
  }
}

}  // namespace film::layout::detail
