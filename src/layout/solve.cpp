#include "layout/solve.h"

#include <algorithm>
#include <limits>
#include <memory>
#include <utility>

#include "base/assert.h"
#include "base/text.h"
#include "layout/detail/collision/engine.h"
#include "layout/detail/search/first_layout.h"
#include "layout/detail/search/lane.h"
#include "layout/detail/search/turns.h"
#include "layout/verify.h"

namespace film::layout {
namespace {

using detail::Body;
using detail::Engine;
using detail::Found;
using detail::Lane;
using detail::Phase;
using detail::Room;

/// As many lanes as the usual machine has cores. Fixed, so that the result does not depend on
/// the machine.
constexpr std::size_t kLanes = 2;
/// Passes between two meetings of the lanes.
constexpr std::uint64_t kEpoch = 40;
constexpr std::uint64_t kDefaultPasses = 4000;
constexpr double kExploreShare = 0.8;
/// Past these a search would only get to look at a few places; the first layout is the answer.
constexpr std::size_t kMostSearched = 2500;
constexpr std::size_t kMostFields = 200'000;

/// The copies that can be laid, as a problem of their own, and the way back.
class Search {
 public:
  Search(const Problem& problem, const SolveOptions& options, const Context& context)
      : problem_(problem), options_(options), context_(context) {}

  Result<Solution> run() {
    set_aside_too_wide();
    if (auto fault = check_locks()) return tl::unexpected(*fault);
    keep(detail::first_layout(laid_, options_.locked));
    FILM_ASSERT(has_best_);
    const std::vector<PlacedPiece> started = with_start(best_.placements);
    if (!options_.start.empty() && !keep(started)) start_ = started;
    if (copies_in(laid_) > 0) search();
    return std::move(best_);
  }

 private:
  /// Items that fit in no turn become answers, and are left out of `laid_`.
  void set_aside_too_wide() {
    laid_ = problem_;
    const Margins& margins = problem_.strip.margins;
    const double room = problem_.strip.width - margins.low - margins.high;
    for (std::size_t i = 0; i < laid_.items.size(); ++i) {
      Item& item = laid_.items[i];
      const double least = least_width(item);
      if (least <= room) continue;
      for (int copy = 0; copy < item.quantity; ++copy) {
        unplaced_.push_back({i, copy,
                             format("wider than the strip: its least width is {:.6g}, the strip "
                                    "offers {:.6g}",
                                    least, room)});
      }
      item.quantity = 0;
    }
    laid_ = detail::with_named_turns(std::move(laid_));
  }

  [[nodiscard]] std::optional<Error> check_locks() const {
    if (options_.locked.empty()) return std::nullopt;
    Solution locks;
    locks.placements = options_.locked;
    for (const PlacedPiece& piece : locks.placements) {
      if (piece.item >= problem_.items.size()) {
        return Error{ErrorCode::invalid_input, "a locked piece names an unknown item", "locks", {}};
      }
    }
    locks.length = length_of(problem_, locks.placements);
    locks.density = density_of(problem_, locks.placements, locks.length);
    for (const Violation& violation : verify_placed(problem_, locks)) {
      return Error{ErrorCode::conflict, "the locked pieces break a rule: " + violation.what,
                   "locks", "Unlock or move one of them"};
    }
    return std::nullopt;
  }

  /// verify, without asking for the pieces that are not locked.
  static std::vector<Violation> verify_placed(const Problem& problem, Solution solution) {
    std::vector<std::vector<char>> there(problem.items.size());
    for (std::size_t i = 0; i < problem.items.size(); ++i) {
      there[i].assign(static_cast<std::size_t>(problem.items[i].quantity), 0);
    }
    for (const PlacedPiece& p : solution.placements) {
      if (p.copy >= 0 && p.copy < problem.items[p.item].quantity) {
        there[p.item][static_cast<std::size_t>(p.copy)] = 1;
      }
    }
    for (std::size_t i = 0; i < there.size(); ++i) {
      for (std::size_t c = 0; c < there[i].size(); ++c) {
        if (!there[i][c]) solution.unplaced.push_back({i, static_cast<int>(c), ""});
      }
    }
    return verify(problem, solution);
  }

  /// The pieces, where the start says so or else where they are.
  [[nodiscard]] std::vector<PlacedPiece> with_start(std::vector<PlacedPiece> pieces) const {
    for (const PlacedPiece& given : options_.start) {
      for (PlacedPiece& piece : pieces) {
        const bool locked = std::find(options_.locked.begin(), options_.locked.end(), piece) !=
                            options_.locked.end();
        if (!locked && piece.item == given.item && piece.copy == given.copy) {
          piece.placement = given.placement;
        }
      }
    }
    return pieces;
  }

  /// Makes a solution of placements; keeps it when it is valid and the best so far.
  bool keep(std::vector<PlacedPiece> placements) {
    std::stable_sort(placements.begin(), placements.end(),
                     [](const PlacedPiece& a, const PlacedPiece& b) {
                       return std::pair(a.item, a.copy) < std::pair(b.item, b.copy);
                     });
    Solution solution;
    solution.unplaced = unplaced_;
    solution.placements = std::move(placements);
    drop_past_the_end(solution);
    solution.length = length_of(problem_, solution.placements);
    solution.density = density_of(problem_, solution.placements, solution.length);
    solution.iterations = iterations_;
    if (has_best_ && !better(solution, best_)) return false;
    if (!verify(problem_, solution, options_.locked).empty()) return false;
    has_best_ = true;
    best_ = std::move(solution);
    if (options_.on_better) options_.on_better(best_);
    return true;
  }

  static bool better(const Solution& a, const Solution& b) {
    if (a.unplaced.size() != b.unplaced.size()) return a.unplaced.size() < b.unplaced.size();
    return a.length < b.length;
  }

  void drop_past_the_end(Solution& solution) const {
    const double end = problem_.strip.maximum_length - problem_.strip.margins.end;
    if (!(end < std::numeric_limits<double>::infinity())) return;
    std::erase_if(solution.placements, [&](const PlacedPiece& piece) {
      const Polygon outline = outline_of(problem_, piece);
      const double reach = bounding_box(outline).high.x;
      if (reach <= end) return false;
      solution.unplaced.push_back({piece.item, piece.copy, "does not fit in the length left"});
      return true;
    });
  }

  void search() {
    if (best_.placements.size() > kMostSearched) return;
    Engine engine(laid_);
    if (engine.field_count() > kMostFields) return;
    engine.make_fields(context_);
    if (context_.stopped()) return;
    std::vector<PlacedPiece> pieces = best_.placements;
    Found first{bodies_of(engine, pieces), 0};
    const double slack = engine.slack();
    const Strip& strip = problem_.strip;
    const Margins& m = strip.margins;
    const double reach = best_.length - m.end;
    const Room room{{m.start, m.low}, {reach + slack, strip.width - m.high}, slack};
    first.reach = room.high.x;
    const double shortest = shortest_reach(engine, first.bodies, room);
    std::vector<Lane> lanes;
    for (std::size_t k = 0; k < kLanes; ++k) {
      lanes.emplace_back(engine, first, room, shortest, options_.seed * 1000003 + k);
    }
    if (!start_.empty()) {
      const double start_reach = length_of(problem_, start_) - m.end + slack;
      if (start_reach < first.reach) {
        const std::vector<Body> bodies = bodies_of(engine, start_);
        for (Lane& lane : lanes) lane.try_from(bodies, std::max(start_reach, shortest));
      }
    }
    double best_reach = first.reach;
    while (!finished()) {
      const double share = share_spent();
      const Phase phase = share < kExploreShare ? Phase::explore : Phase::compress;
      std::uint64_t passes = kEpoch;
      if (options_.iteration_limit > 0 || !limited_by_time()) {
        passes = std::min(passes, limit() - iterations_);
      }
      context_.executor().run(kLanes,
                              [&](std::size_t k) { lanes[k].run(passes, phase, context_); });
      iterations_ += passes;
      std::size_t leader = 0;
      for (std::size_t k = 1; k < kLanes; ++k) {
        if (lanes[k].best().reach < lanes[leader].best().reach) leader = k;
      }
      const Found& found = lanes[leader].best();
      if (found.reach < best_reach) {
        best_reach = found.reach;
        keep(pieces_of(engine, pieces, found.bodies));
        for (std::size_t k = 0; k < kLanes; ++k) {
          if (lanes[k].best().reach > best_reach) lanes[k].adopt(found);
        }
      }
      context_.report(phase == Phase::explore ? "laying out" : "tightening", share);
      if (!(best_reach > shortest)) break;
    }
    best_.iterations = iterations_;
  }

  [[nodiscard]] std::vector<Body> bodies_of(Engine& engine,
                                            const std::vector<PlacedPiece>& pieces) const {
    std::vector<Body> bodies;
    for (const PlacedPiece& piece : pieces) {
      const bool fixed =
          std::find(options_.locked.begin(), options_.locked.end(), piece) != options_.locked.end();
      const std::size_t kind = engine.kind_of_item(piece.item);
      const std::uint32_t pose = fixed ? engine.add_pose(kind, piece.placement.turn)
                                       : engine.nearest_pose(kind, piece.placement.turn);
      bodies.push_back({pose, piece.placement.move, fixed});
    }
    for (std::size_t d = 0; d < problem_.strip.defects.size(); ++d) {
      const std::size_t kind = engine.kind_of_defect(d);
      bodies.push_back({engine.poses_of(kind).front(), {}, true});
    }
    return bodies;
  }

  static std::vector<PlacedPiece> pieces_of(const Engine& engine, std::vector<PlacedPiece> pieces,
                                            const std::vector<Body>& bodies) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      if (bodies[i].fixed) continue;
      pieces[i].placement = {engine.pose(bodies[i].pose).turn, bodies[i].at};
    }
    return pieces;
  }

  /// No layout reaches less far: the longest piece in its shortest turn, the locked pieces, and
  /// the area over the width.
  [[nodiscard]] double shortest_reach(const Engine& engine, const std::vector<Body>& bodies,
                                      const Room& room) const {
    double shortest = 0;
    double sum = 0;
    for (const Body& body : bodies) {
      const detail::Pose& pose = engine.pose(body.pose);
      double reach = body.at.x + pose.box.high.x;
      if (!body.fixed) {
        reach = std::numeric_limits<double>::infinity();
        for (const std::uint32_t p : engine.poses_of(pose.kind)) {
          reach = std::min(reach, room.low.x + engine.pose(p).box.width());
        }
        sum += engine.area_of_kind(pose.kind);
      } else if (pose.kind == engine.kind_of_defect(0)) {
        reach = 0;
      }
      shortest = std::max(shortest, reach);
    }
    return std::max(shortest, room.low.x + sum / (room.high.y - room.low.y)) + engine.slack();
  }

  [[nodiscard]] bool limited_by_time() const { return static_cast<bool>(options_.share_spent); }
  [[nodiscard]] std::uint64_t limit() const {
    return options_.iteration_limit > 0 ? options_.iteration_limit : kDefaultPasses;
  }
  [[nodiscard]] bool finished() const {
    if (context_.stopped()) return true;
    return (options_.iteration_limit > 0 || !limited_by_time()) && iterations_ >= limit();
  }
  [[nodiscard]] double share_spent() const {
    const double by_passes = static_cast<double>(iterations_) / static_cast<double>(limit());
    return std::min(1.0, options_.share_spent ? options_.share_spent() : by_passes);
  }

  const Problem& problem_;
  const SolveOptions& options_;
  const Context& context_;
  Problem laid_;
  std::vector<Unplaced> unplaced_;
  std::vector<PlacedPiece> start_;  // to be mended; empty when there is none or it is valid
  Solution best_;
  bool has_best_ = false;
  std::uint64_t iterations_ = 0;
};

}  // namespace

Result<Solution> solve(const Problem& problem, const SolveOptions& options,
                       const Context& context) {
  if (auto fault = fault_of(problem)) return tl::unexpected(*std::move(fault));
  return Search(problem, options, context).run();
}

}  // namespace film::layout
