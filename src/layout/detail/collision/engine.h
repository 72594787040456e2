#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <memory>
#include <vector>

#include "base/context.h"
#include "layout/detail/collision/pair_field.h"
#include "layout/problem.h"

namespace film::layout::detail {

/// Distance kept to the strip's edges, and beyond the gap between pieces, as a share of the
/// strip's width: rounding in the search never reaches the exact check.
inline constexpr double kSlackShare = 4e-9;

/// A kind of piece in one of its allowed turns. Kinds are shapes that occur in the problem,
/// equal ones counted once; a defect is a kind of its own.
struct Pose {
  std::size_t kind = 0;
  std::size_t base = 0;  ///< index of the shape turned by less than a quarter
  int quarter = 0;       ///< quarter turns on top of that
  double turn = 0;       ///< radians, as the item allows it
  Box box;               ///< of the turned and simplified shape, about the item's own origin
  Vec2 centre;  ///< centre of the box of the turned shape as given, which rules are judged by
};

/// How to ask the field of a pair of poses: position of the first relative to the second,
/// turned into the field's frame by quarter turns (and mirrored through the origin when the
/// field is stored for the opposite order). All factors are 0, 1 or -1.
struct Relation {
  const PairField* field = nullptr;
  double c = 1;
  double s = 0;

  [[nodiscard]] Vec2 into_field(Vec2 d) const { return {c * d.x + s * d.y, c * d.y - s * d.x}; }
  [[nodiscard]] Vec2 from_field(Vec2 d) const { return {c * d.x - s * d.y, c * d.y + s * d.x}; }
  [[nodiscard]] double depth(Vec2 d,
                             double enough = std::numeric_limits<double>::infinity()) const {
    return field->depth(into_field(d), enough);
  }
};

/// Answers how deep two pieces of a problem overlap. Fields are made when first asked for; the
/// same field serves both orders and all common quarter turns of a pair. Thread-safe.
class Engine {
 public:
  /// Every item must name its turns and fit the strip in one of them; the strip's frames must
  /// have become defects.
  explicit Engine(const Problem& problem);
  ~Engine();
  Engine(const Engine&) = delete;
  Engine& operator=(const Engine&) = delete;

  [[nodiscard]] std::size_t kind_count() const { return poses_of_.size(); }
  [[nodiscard]] std::size_t kind_of_item(std::size_t item) const { return kind_of_item_[item]; }
  /// Where a defect lies: its kind is that of all defects alike, its place that of the kind's
  /// lower left.
  struct Defect {
    std::size_t kind = 0;
    Vec2 at;
  };
  [[nodiscard]] const std::vector<Defect>& defects() const { return defects_; }
  [[nodiscard]] bool is_defect(std::size_t kind) const { return kind >= first_defect_; }
  /// The poses of a kind that differ in outline; at least one.
  [[nodiscard]] const std::vector<std::uint32_t>& poses_of(std::size_t kind) const {
    return poses_of_[kind];
  }
  [[nodiscard]] std::size_t pose_count() const { return poses_.size(); }
  [[nodiscard]] const Pose& pose(std::uint32_t index) const { return poses_[index]; }
  /// The pose of this kind whose turn is nearest.
  [[nodiscard]] std::uint32_t nearest_pose(std::size_t kind, double turn) const;
  /// The pose of any turn, for a piece that is locked or given so; added when there is none. One
  /// that is added takes fields away that were made, so it must be before a search begins.
  std::uint32_t add_pose(std::size_t kind, double turn);

  [[nodiscard]] Relation relation(std::uint32_t first, std::uint32_t second) const;
  /// Fields that a search over all pairs would make.
  [[nodiscard]] std::size_t field_count() const;
  /// Makes all fields of pairs of items at once.
  void make_fields(const Context& context) const;

  /// kSlackShare of the strip's width.
  [[nodiscard]] double slack() const { return slack_; }
  /// Boxes farther apart than this in x or y belong to pieces without conflict.
  [[nodiscard]] double reach() const { return 2 * (gap_ + slack_); }
  [[nodiscard]] double area_of_kind(std::size_t kind) const { return areas_[kind]; }
  /// How heavily depth counts where this kind overlaps: a power of its area, so that small pieces
  /// give way to large ones. Defects count as a usual piece.
  [[nodiscard]] double heft_of_kind(std::size_t kind) const { return hefts_[kind]; }

 private:
  struct Shape {  // a kind turned by its base angle, in convex parts
    std::vector<ConvexPart> parts;
    bool defect = false;
  };

  void add_kind(const Polygon& shape, const std::vector<Angle>& turns);
  void add_defect(const Polygon& defect);
  std::uint32_t append_pose(std::size_t kind, double turn);
  [[nodiscard]] bool looks_new(std::size_t kind, std::uint32_t pose) const;
  [[nodiscard]] std::size_t base_shape(std::size_t kind, double turn);
  [[nodiscard]] std::unique_ptr<PairField> make_field(std::size_t fixed, std::size_t moving,
                                                      int quarter) const;
  [[nodiscard]] const PairField& field(std::size_t fixed, std::size_t moving, int quarter) const;
  void reserve_fields();
  void weigh_kinds();

  double gap_ = 0;
  double slack_ = 0;
  std::vector<Ring> outlines_;   // of each kind, as given
  std::vector<Polygon> shapes_;  // simplified outwards
  std::vector<std::vector<Angle>> turns_;
  std::vector<double> areas_;
  std::vector<double> hefts_;
  std::vector<std::size_t> kind_of_item_;
  std::size_t first_defect_ = 0;
  std::vector<Defect> defects_;
  std::vector<Pose> poses_;
  std::vector<std::vector<std::uint32_t>> poses_of_;
  std::vector<Shape> bases_;
  struct BaseKey {
    std::size_t kind;
    double turn;
  };
  std::vector<BaseKey> base_keys_;
  mutable std::vector<std::atomic<PairField*>> fields_;
};

}  // namespace film::layout::detail
