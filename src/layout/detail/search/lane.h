#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "base/context.h"
#include "base/rng.h"
#include "layout/detail/search/arrangement.h"

namespace film::layout::detail {

/// A layout without conflicts, as the search keeps it.
struct Found {
  std::vector<Body> bodies;
  double reach = 0;  ///< x of its rightmost extent
};

enum class Phase {
  explore,   ///< large changes: failed attempts are disrupted and tried again
  compress,  ///< small changes to the best layout
};

/// One line of search: again and again takes a layout without conflicts, makes the room shorter,
/// and moves pieces until the conflicts are gone or hope is. Lanes do not know each other; the
/// caller hands the best layout from one to the other.
/// Source of the scheme (shrinking room, exploration, then compression): J. Gardeyn, T. Vanden
/// Berghe, G. Wauters, arXiv 2509.13329; weights and shrinking go back to Egeblad et al. 2007 and
/// S. Umetani et al. 2009.
class Lane {
 public:
  /// `room` is as long as the first layout; `shortest` is the reach below which nothing fits.
  Lane(const Engine& engine, Found first, Room room, double shortest, std::uint64_t seed);

  /// Works for that many passes or, if that comes first, until about that many moves have been
  /// tried, or the context asks to stop. Moves take equally long in all lanes, passes do not.
  /// Answers the passes made.
  std::uint64_t run(std::uint64_t passes, std::size_t moves, Phase phase, const Context& context);

  [[nodiscard]] const Found& best() const { return best_; }
  /// Begins with an attempt at a layout of less reach than the first that may have conflicts.
  void try_from(const std::vector<Body>& bodies, double reach) { begin(bodies, reach); }
  /// Takes over a layout that is better than the lane's own.
  void adopt(const Found& found);

 private:
  void begin(const std::vector<Body>& from, double reach);
  void shrink();
  std::size_t step(const Context& context);
  void judge(double total);
  void succeed();
  void strike_out();
  [[nodiscard]] bool hasty() const;
  void give_up();
  void disrupt(std::vector<Body>& bodies);
  [[nodiscard]] double next_reach() const;

  const Engine& engine_;
  Rng rng_;
  Room room_;
  double shortest_;
  Found best_;
  Arrangement arrangement_;
  Phase phase_ = Phase::explore;

  // The attempt under way.
  double target_ = 0;           // reach
  double least_ = 0;            // overlap, of this attempt
  double least_at_strike_ = 0;  // when the present strike began
  std::vector<Body> least_bodies_;
  int idle_ = 0;     // passes since the overlap last went down clearly
  int strikes_ = 0;  // times the lane ran idle
  int passes_ = 0;
  bool open_ = false;

  // Share of the reach taken away at once; grows with quick success, shrinks with failure.
  double explore_rate_;
  double compress_rate_;
  // Failed attempts at the present target, least overlap first.
  std::vector<std::pair<double, std::vector<Body>>> failed_;
};

}  // namespace film::layout::detail
