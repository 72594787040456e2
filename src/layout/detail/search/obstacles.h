#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "layout/detail/collision/engine.h"
#include "layout/detail/search/walls.h"

namespace film::layout::detail {

/// Bodies as one of them meets the others. Answers how deep it would lie in them, from any place
/// and in any of its poses: the sum of their depths, each times its weight and both hefts.
class Obstacles {
 public:
  /// `engine` must outlive this, and gets no more poses.
  explicit Obstacles(const Engine& engine);

  /// Bodies 0 .. count - 1; each must be put somewhere before anything is asked.
  void resize(std::size_t count);
  void put(std::size_t body, std::uint32_t pose, Vec2 at);

  struct Overlap {
    std::size_t other = 0;
    double depth = 0;
  };
  /// The bodies that one overlaps as it lies, and how deep.
  void overlaps(std::size_t body, std::vector<Overlap>& out);

  /// The next questions are for this body; `weights` of it to each other one, as many as bodies.
  void ask_for(std::size_t body, const float* weights);
  /// The sum at `p`, or something at least `bound` once it is known to reach it.
  [[nodiscard]] double value(std::uint32_t pose, Vec2 p, double bound);
  /// About the same, by rough depths: far cheaper.
  [[nodiscard]] double rough_value(std::uint32_t pose, Vec2 p, double bound);
  /// The sum at `p`; every body met there leaves the wall by which the way out is shortest, in
  /// place of the one it had in `walls`.
  double value(std::uint32_t pose, Vec2 p, std::vector<Wall>& walls);

 private:
  /// The extents of four bodies. Rounding to float keeps the order, so none that is met is missed.
  struct Four {
    float low_x[4], high_x[4], low_y[4], high_y[4];
  };
  struct Other {
    Vec2 at;
    double heft = 0;
    double weight = 0;  // to the body that is asked for, both hefts in it
    std::uint32_t pose = 0;
  };
  /// How two poses meet. Rough depths are looked up without a turn into the field's frame, and all
  /// that it takes lies side by side: with a hundred kinds the search waits for memory most.
  struct Meeting {
    Relation relation;
    const std::uint8_t* steps = nullptr;
    float step = 0;
    float column_x = 0, column_y = 0, column_0 = 0;  // the cell's column, by the first's place
    float row_x = 0, row_y = 0, row_0 = 0;
    std::uint16_t columns = 0, rows = 0;

    [[nodiscard]] double rough_depth(Vec2 d) const;
  };
  static Meeting meeting_of(const Relation& relation);
  template <class Visit>
  void visit(std::uint32_t pose, Vec2 p, Visit&& visit);
  [[nodiscard]] const Meeting& meeting(std::uint32_t pose, std::uint32_t other);

  const Engine* engine_;
  std::size_t poses_;
  std::vector<Four> extents_;
  std::vector<Other> others_;
  std::vector<Meeting> meetings_;  // of each pair of poses, once asked for; none when too many
  Meeting last_;
  std::size_t body_ = 0;
};

}  // namespace film::layout::detail
