#include "layout/solve.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <utility>

#include "base/assert.h"
#include "base/text.h"
#include "layout/detail/collision/engine.h"
#include "layout/detail/search/bodies.h"
#include "layout/detail/search/first_layout.h"
#include "layout/detail/search/lane.h"
#include "layout/detail/search/subset.h"
#include "layout/verify.h"

namespace film::layout {
namespace {

using detail::Body;
using detail::Engine;
using detail::Found;
using detail::Lane;
using detail::Phase;
using detail::Room;
using detail::Subset;

/// As many lanes as the usual machine has cores. Fixed, so that the result does not depend on
/// the machine.
constexpr std::size_t kLanes = 2;
/// Moves that each lane tries between two meetings of the lanes, some tens of milliseconds.
constexpr std::size_t kEpoch = 4000;
/// Passes in which a piece that was left out must find its place.
constexpr int kSqueezePasses = 240;
constexpr std::uint64_t kDefaultPasses = 4000;
constexpr double kExploreShare = 0.8;
/// Past these a search would only get to look at a few places; the first layout is the answer.
constexpr std::size_t kMostSearched = 2500;
constexpr std::size_t kMostFields = 200'000;
/// More fields than these are made as the search asks for them.
constexpr std::size_t kFieldsAtOnce = 2000;

/// One search, with pieces before `first_middle` kept clear.
class Search {
 public:
  Search(const Problem& problem, const SolveOptions& options, const Context& context,
         double first_middle = -std::numeric_limits<double>::infinity())
      : problem_(problem), options_(options), context_(context), first_middle_(first_middle) {}

  Result<Solution> run() {
    auto [laid, unplaced] = detail::prepared(problem_);
    laid_ = std::move(laid);
    too_large_ = std::move(unplaced);
    if (auto fault = check_locks()) return tl::unexpected(*fault);
    keep(detail::first_layout(laid_, options_.locked, first_middle_));
    FILM_ASSERT(has_best_);
    if (!options_.start.empty()) begin_from_start();
    if (!best_.placements.empty() || !best_.unplaced.empty()) search();
    return std::move(best_);
  }

 private:
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

  /// As much of the start as is valid is a layout at once; if more of it clashes, the search
  /// tries to mend it as it is.
  void begin_from_start() {
    const std::vector<PlacedPiece> known =
        detail::known_pieces(laid_, options_.start, options_.locked, first_middle_);
    keep(detail::mended_layout(laid_, known, detail::violations_among(laid_, known),
                               options_.locked, first_middle_));
    std::vector<PlacedPiece> started = best_.placements;
    for (const PlacedPiece& given : options_.start) {
      for (PlacedPiece& piece : started) {
        const bool locked = std::find(options_.locked.begin(), options_.locked.end(), piece) !=
                            options_.locked.end();
        if (!locked && piece.item == given.item && piece.copy == given.copy) {
          piece.placement = given.placement;
        }
      }
    }
    if (started != best_.placements) start_ = std::move(started);
  }

  /// Makes a solution of placements; keeps it when it is valid and the best so far.
  bool keep(detail::FirstLayout layout) {
    std::stable_sort(layout.placements.begin(), layout.placements.end(),
                     [](const PlacedPiece& a, const PlacedPiece& b) {
                       return std::pair(a.item, a.copy) < std::pair(b.item, b.copy);
                     });
    Solution solution;
    solution.unplaced = too_large_;
    solution.unplaced.insert(solution.unplaced.end(), layout.left_out.begin(),
                             layout.left_out.end());
    solution.placements = std::move(layout.placements);
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

  /// More of the pieces of the highest priority, by area; then less length.
  [[nodiscard]] bool better(const Solution& a, const Solution& b) const {
    std::map<int, double, std::greater<>> left;  // area left out, a less b
    for (const Unplaced& u : a.unplaced) left[problem_.items[u.item].priority] += area_of(u);
    for (const Unplaced& u : b.unplaced) left[problem_.items[u.item].priority] -= area_of(u);
    for (const auto& [priority, more] : left) {
      if (std::abs(more) > 1e-9 * problem_.strip.width * problem_.strip.width) return more < 0;
    }
    return a.length < b.length;
  }
  [[nodiscard]] double area_of(const Unplaced& piece) const {
    return area(problem_.items[piece.item].shape);
  }

  /// The pieces that were left out for want of length, those to be laid first foremost.
  [[nodiscard]] std::vector<Unplaced> left_out() const {
    std::vector<Unplaced> out(
        best_.unplaced.begin() + static_cast<std::ptrdiff_t>(too_large_.size()),
        best_.unplaced.end());
    std::stable_sort(out.begin(), out.end(), [&](const Unplaced& a, const Unplaced& b) {
      const int pa = problem_.items[a.item].priority;
      const int pb = problem_.items[b.item].priority;
      return pa != pb ? pa > pb : area_of(a) > area_of(b);
    });
    return out;
  }

  /// Tries to lay one more piece by moving the others, on the whole strip.
  bool squeeze_in(Engine& engine, const Unplaced& piece, Rng& rng) {
    std::vector<PlacedPiece> pieces = best_.placements;
    const std::size_t kind = engine.kind_of_item(piece.item);
    pieces.push_back({piece.item, piece.copy, {engine.pose(engine.poses_of(kind)[0]).turn, {}}});
    std::vector<Body> bodies = detail::bodies_of(engine, pieces, options_.locked);
    const Room room = room_to(problem_.strip.maximum_length - problem_.strip.margins.end);
    Body& fresh = bodies[pieces.size() - 1];
    const Box box = room.origins(engine.pose(fresh.pose));
    fresh.at = {rng.uniform(box.low.x, box.high.x), rng.uniform(box.low.y, box.high.y)};
    detail::Arrangement arrangement(engine, std::move(bodies), room);
    for (int pass = 0; pass < kSqueezePasses && !context_.stopped(); ++pass) {
      if (arrangement.total_overlap() == 0) break;
      arrangement.pass(rng, context_);
    }
    if (arrangement.total_overlap() > 0) return false;
    detail::FirstLayout layout{detail::pieces_of(engine, pieces, arrangement.bodies()), {}};
    for (const Unplaced& other : left_out()) {
      if (other != piece) layout.left_out.push_back(other);
    }
    return keep(std::move(layout));
  }

  void squeeze_in_left_out(Engine& engine) {
    Rng rng(options_.seed * 7919 + 17);
    for (const Unplaced& piece : left_out()) {
      if (finished()) return;
      squeeze_in(engine, piece, rng);
    }
  }

  [[nodiscard]] Room room_to(double reach) const {
    const Strip& strip = problem_.strip;
    return {{strip.margins.start, strip.margins.low},
            {reach, strip.width - strip.margins.high},
            detail::kSlackShare * strip.width,
            first_middle_};
  }

  void search() {
    if (context_.stopped() || best_.placements.size() > kMostSearched) return;
    Engine engine(laid_);
    if (engine.field_count() > kMostFields) return;
    if (engine.field_count() <= kFieldsAtOnce) engine.make_fields(context_);
    if (!left_out().empty()) squeeze_in_left_out(engine);
    if (context_.stopped() || best_.placements.empty()) return;
    std::vector<PlacedPiece> pieces = best_.placements;
    Found first{detail::bodies_of(engine, pieces, options_.locked), 0};
    const double slack = engine.slack();
    const Margins& m = problem_.strip.margins;
    const Room room = room_to(best_.length - m.end + slack);
    first.reach = room.high.x;
    const double shortest = shortest_reach(engine, first.bodies, room);
    std::vector<Lane> lanes;
    for (std::size_t k = 0; k < kLanes; ++k) {
      lanes.emplace_back(engine, first, room, shortest, options_.seed * 1000003 + k);
    }
    if (!start_.empty()) {
      const double start_reach = length_of(problem_, start_) - m.end + slack;
      if (start_reach < first.reach) {
        const std::vector<Body> bodies = detail::bodies_of(engine, start_, options_.locked);
        for (Lane& lane : lanes) lane.try_from(bodies, std::max(start_reach, shortest));
      }
    }
    // The search goes on from what it found, whose play is spread; the answer has it taken out.
    const auto keep_tight = [&](const Found& found) {
      detail::Arrangement tight(engine, found.bodies, room);
      tight.slide_back();
      keep({detail::pieces_of(engine, pieces, tight.bodies()), left_out()});
    };
    keep_tight(first);
    double best_reach = first.reach;
    while (!finished()) {
      const double share = share_spent();
      const Phase phase = share < kExploreShare ? Phase::explore : Phase::compress;
      std::uint64_t passes = std::numeric_limits<std::uint64_t>::max();
      if (options_.iteration_limit > 0 || !limited_by_time()) passes = limit() - iterations_;
      std::array<std::uint64_t, kLanes> made{};
      context_.executor().run(
          kLanes, [&](std::size_t k) { made[k] = lanes[k].run(passes, kEpoch, phase, context_); });
      iterations_ += std::max<std::uint64_t>(1, *std::max_element(made.begin(), made.end()));
      std::size_t leader = 0;
      for (std::size_t k = 1; k < kLanes; ++k) {
        if (lanes[k].best().reach < lanes[leader].best().reach) leader = k;
      }
      const Found& found = lanes[leader].best();
      if (found.reach < best_reach) {
        best_reach = found.reach;
        keep_tight(found);
        for (std::size_t k = 0; k < kLanes; ++k) {
          if (lanes[k].best().reach > best_reach) lanes[k].adopt(found);
        }
      }
      context_.report(phase == Phase::explore ? "laying out" : "tightening", share);
      if (!(best_reach > shortest)) break;
    }
    best_.iterations = iterations_;
  }

  /// No layout reaches less far: each piece in its shortest turn, the locked pieces, and the area
  /// over the width.
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
          reach = std::min(reach, room.least_reach(engine.pose(p)));
        }
        sum += engine.area_of_kind(pose.kind);
      } else if (engine.is_defect(pose.kind)) {
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
    if (context_.stopped() || (limited_by_time() && share_spent() >= 1)) return true;
    return (options_.iteration_limit > 0 || !limited_by_time()) && iterations_ >= limit();
  }
  [[nodiscard]] double share_spent() const {
    const double by_passes = static_cast<double>(iterations_) / static_cast<double>(limit());
    return std::min(1.0, options_.share_spent ? options_.share_spent() : by_passes);
  }

  const Problem& problem_;
  const SolveOptions& options_;
  const Context& context_;
  double first_middle_;
  Problem laid_;
  std::vector<Unplaced> too_large_;
  std::vector<PlacedPiece> start_;  // to be mended; empty when there is none or it is valid
  Solution best_;
  bool has_best_ = false;
  std::uint64_t iterations_ = 0;
};

/// Groups one after the other: each is laid behind the middles of those before it, which are
/// locked, so that neighbours still interlock.
class SearchInTurn {
 public:
  SearchInTurn(const Problem& problem, const SolveOptions& options, const Context& context)
      : problem_(problem), options_(options), context_(context), groups_(groups_of(problem)) {}

  Result<Solution> run() {
    const double all = std::max(1.0, static_cast<double>(copies_in(problem_)));
    double done = 0;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      const Subset stage(problem_, [&](std::size_t item, int copy) {
        return is_locked(item, copy) ||
               (rank(item) <= g && (rank(item) == g || is_laid(item, copy)));
      });
      const double from = done / all;
      done += static_cast<double>(copies_of_group(g));
      auto result = run_stage(stage, from, done / all);
      if (!result) return result;
      for (const PlacedPiece& piece : stage.out_of(result->placements)) {
        if (!is_laid(piece.item, piece.copy)) laid_.push_back(piece);
      }
      for (const Unplaced& piece : stage.out_of(result->unplaced)) unplaced_.push_back(piece);
      iterations_ += result->iterations;
    }
    return whole();
  }

 private:
  [[nodiscard]] std::size_t rank(std::size_t item) const {
    const auto at = std::find(groups_.begin(), groups_.end(), problem_.items[item].group);
    return static_cast<std::size_t>(at - groups_.begin());
  }
  [[nodiscard]] static bool names(std::span<const PlacedPiece> pieces, std::size_t item, int copy) {
    return std::any_of(pieces.begin(), pieces.end(),
                       [&](const PlacedPiece& p) { return p.item == item && p.copy == copy; });
  }
  [[nodiscard]] bool is_locked(std::size_t item, int copy) const {
    return names(options_.locked, item, copy);
  }
  [[nodiscard]] bool is_laid(std::size_t item, int copy) const { return names(laid_, item, copy); }
  [[nodiscard]] int copies_of_group(std::size_t g) const {
    int count = 0;
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
      if (rank(i) == g) count += problem_.items[i].quantity;
    }
    return count;
  }

  Result<Solution> run_stage(const Subset& stage, double from, double to) {
    std::vector<PlacedPiece> fixed = laid_;
    for (const PlacedPiece& lock : options_.locked) {
      if (!is_laid(lock.item, lock.copy)) fixed.push_back(lock);
    }
    SolveOptions options = options_;
    options.locked = stage.into(fixed);
    options.start = stage.into(options_.start);
    options.on_better = {};
    const double share = to - from;
    if (options_.iteration_limit > 0) {
      options.iteration_limit = std::max<std::uint64_t>(
          1, static_cast<std::uint64_t>(static_cast<double>(options_.iteration_limit) * share));
    }
    if (options_.share_spent) {
      options.share_spent = [&, from, share] { return (options_.share_spent() - from) / share; };
    }
    double first_middle = -std::numeric_limits<double>::infinity();
    for (const PlacedPiece& piece : laid_) {
      first_middle = std::max(first_middle, bounding_box(outline_of(problem_, piece)).centre().x);
    }
    Problem problem = stage.problem();
    problem.grouping = Grouping::free;
    return Search(problem, options, context_, first_middle).run();
  }

  Result<Solution> whole() {
    Solution solution;
    solution.placements = std::move(laid_);
    std::stable_sort(solution.placements.begin(), solution.placements.end(),
                     [](const PlacedPiece& a, const PlacedPiece& b) {
                       return std::pair(a.item, a.copy) < std::pair(b.item, b.copy);
                     });
    solution.unplaced = std::move(unplaced_);
    solution.length = length_of(problem_, solution.placements);
    solution.density = density_of(problem_, solution.placements, solution.length);
    solution.iterations = iterations_;
    for (const Violation& violation : verify(problem_, solution, options_.locked)) {
      return fail(ErrorCode::conflict,
                  "the locks keep the groups from lying in turn: " + violation.what, "locks",
                  "Unlock a piece, or let groups lie anywhere");
    }
    if (options_.on_better) options_.on_better(solution);
    return solution;
  }

  const Problem& problem_;
  const SolveOptions& options_;
  const Context& context_;
  std::vector<std::string> groups_;
  std::vector<PlacedPiece> laid_;
  std::vector<Unplaced> unplaced_;
  std::uint64_t iterations_ = 0;
};

}  // namespace

Result<Solution> solve(const Problem& problem, const SolveOptions& options,
                       const Context& context) {
  if (auto fault = fault_of(problem)) return tl::unexpected(*std::move(fault));
  if (problem.grouping == Grouping::in_turn && groups_of(problem).size() > 1) {
    return SearchInTurn(problem, options, context).run();
  }
  return Search(problem, options, context).run();
}

}  // namespace film::layout
