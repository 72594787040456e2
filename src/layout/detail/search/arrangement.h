#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include "base/context.h"
#include "base/rng.h"
#include "layout/detail/collision/engine.h"
#include "layout/detail/search/obstacles.h"

namespace film::layout::detail {

/// A piece (or a defect) somewhere on the strip.
struct Body {
  std::uint32_t pose = 0;
  Vec2 at;  ///< its own origin
  bool fixed = false;
};

/// The part of the strip that pieces may use.
struct Room {
  Vec2 low;
  Vec2 high;
  double slack = 0;  ///< kept to the edges, save by a piece that just fits between them
  /// No piece's middle in x lies before this.
  double first_middle = -std::numeric_limits<double>::infinity();
  /// Where a piece's origin may be; at the lowest place when it fits nowhere, see least_reach.
  [[nodiscard]] Box origins(const Pose& pose) const;
  /// How far a piece in that pose reaches at least along x, slack not counted; past `high.x` there
  /// is no place for it.
  [[nodiscard]] double least_reach(const Pose& pose) const;
};

/// How the weights of pairs change in a pass.
struct Temper {
  double least_raise = 1.2;  ///< factor for a pair that hardly overlaps
  double most_raise = 2.0;   ///< for the pair that overlaps most
  double decay = 0.95;       ///< for pairs that do not overlap, down to weight 1
};

/// Bodies that may overlap, the overlap of every pair, and a weight for every pair that grows
/// while the pair stays in conflict (guided local search: C. Voudouris, E. Tsang, 1999; for
/// irregular packing: J. Egeblad, B. Nielsen, A. Odgaard, 2007).
class Arrangement {
 public:
  Arrangement(const Engine& engine, std::vector<Body> bodies, Room room);

  [[nodiscard]] const std::vector<Body>& bodies() const { return bodies_; }
  [[nodiscard]] const Room& room() const { return room_; }
  [[nodiscard]] double total_overlap() const { return total_; }
  /// x of the rightmost extent of the bodies that are not fixed.
  [[nodiscard]] double reach() const;

  /// Replaces bodies and room; overlaps are measured afresh, weights kept.
  void reset(std::vector<Body> bodies, Room room);
  /// All weights are 1 again, and change by `temper` from now on.
  void forget_weights(const Temper& temper);

  /// Slides every body towards the start of the strip until it touches something, the first ones
  /// first. For bodies without overlap; keeps them so, or else moves none.
  void slide_back();

  /// Moves every overlapping body to a place and turn of less weighted overlap, if it finds one;
  /// then raises the weights of the pairs that still overlap. Returns the bodies looked at.
  std::size_t pass(Rng& rng, const Context& context);

 private:
  struct Spot {
    std::uint32_t pose = 0;
    Vec2 at;
    double value = 0;
  };

  struct Conflict {
    std::size_t a, b;
    double overlap;
    float weight;
  };

  void measure();
  void measure_row(std::size_t body);
  [[nodiscard]] double heft(std::uint32_t a, std::uint32_t b) const;
  [[nodiscard]] bool overlaps(std::size_t body) const;
  [[nodiscard]] double weighted(std::size_t body) const;
  void raise_weights();
  void move(std::size_t body, const Spot& spot);
  [[nodiscard]] double way_back(std::size_t body) const;
  [[nodiscard]] Spot best_spot(std::size_t body, Rng& rng);
  void sample(std::size_t body, Rng& rng, std::vector<Spot>& best);
  void settle(std::size_t body, Spot& spot, double radius);
  [[nodiscard]] std::size_t pair(std::size_t a, std::size_t b) const {
    return a * bodies_.size() + b;
  }

  const Engine& engine_;
  std::vector<Body> bodies_;
  Room room_;
  std::vector<double> overlap_;  // of each pair, both orders: depth times heft
  std::vector<float> weight_;    // of each pair, both orders
  Temper temper_;
  double total_ = 0;

  Obstacles obstacles_;
  // Scratch.
  std::vector<Wall> walls_;
  std::vector<Conflict> conflicts_;
  std::vector<Obstacles::Overlap> overlaps_;
};

}  // namespace film::layout::detail
