#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include "base/context.h"
#include "base/rng.h"
#include "layout/detail/collision/engine.h"

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
  /// Where a piece's origin may be; at the low edge when it fits nowhere.
  [[nodiscard]] Box origins(const Pose& pose) const;
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
  void forget_weights();

  /// Slides every body towards the start of the strip until it touches something, the first ones
  /// first. For bodies without overlap; keeps them so, or else moves none.
  void slide_back();

  /// Moves every overlapping body to a place and turn of less weighted overlap, if it finds one;
  /// then raises the weights of the pairs that still overlap. Returns the bodies looked at.
  std::size_t pass(Rng& rng, const Context& context);

 private:
  /// Another body as the moving one meets it in one of its poses.
  struct Obstacle {
    double low_x, high_x, low_y, high_y;  // origins of the moving body that may conflict
    Vec2 at;
    double weight;
    std::uint32_t pose;
    Relation relation;  // its field is looked up when first asked
  };
  struct Spot {
    std::uint32_t pose = 0;
    Vec2 at;
    double value = 0;
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
  std::vector<Obstacle>& obstacles(std::size_t body, std::size_t pose_index);
  void relate(std::uint32_t pose, Obstacle& obstacle) const;
  [[nodiscard]] double value_at(std::uint32_t pose, std::vector<Obstacle>& obstacles, Vec2 p,
                                double bound) const;
  [[nodiscard]] double rough_value_at(std::uint32_t pose, std::vector<Obstacle>& obstacles, Vec2 p,
                                      double bound) const;
  void gather_near(std::size_t body, const Spot& spot, double radius);
  void sample(std::size_t body, Rng& rng, std::vector<Spot>& best);
  void refine(std::size_t body, Spot& spot, double step, double least_step, Rng& rng);
  void snap(std::size_t body, Spot& spot, double radius);
  [[nodiscard]] std::size_t pair(std::size_t a, std::size_t b) const {
    return a * bodies_.size() + b;
  }

  const Engine& engine_;
  std::vector<Body> bodies_;
  Room room_;
  std::vector<double> overlap_;  // of each pair, both orders: depth times heft
  std::vector<float> weight_;    // of each pair, both orders
  double total_ = 0;

  // Scratch of one body's move: obstacles by pose index, made when asked for.
  std::vector<std::vector<Obstacle>> obstacles_;
  std::vector<char> obstacles_made_;
  // Those that a place within `near_box_` can meet, for the spot under refinement.
  std::vector<Obstacle> near_;
  Box near_box_;
  std::vector<std::uint32_t> boundary_;
};

}  // namespace film::layout::detail
