#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "base/units.h"
#include "cutting/profile.h"
#include "geometry/box.h"
#include "geometry/polygon.h"

namespace film::cutting {

/// One shape to cut, where it lies on the roll. Roll frame: mm, x along the roll, y across it,
/// origin at the low corner of the roll's start.
struct Shape {
  std::string piece;  ///< which piece it is, for the order list and the spooler
  Polygon outline;
  std::vector<Polyline> slits;  ///< cut before the outline, from inside towards the edge
  std::string zone = {};        ///< for cutting zone by zone; may be empty

  friend bool operator==(const Shape&, const Shape&) = default;
};

/// What the knife is asked to cut.
struct CutJob {
  std::vector<Shape> shapes;
  Mm length{0};  ///< of the roll that the layout takes, from x = 0; the media reaches to here

  friend bool operator==(const CutJob&, const CutJob&) = default;
};

struct CutOptions {
  std::uint64_t seed = 1;
  std::size_t iterations = 20000;  ///< most rounds of each search for a short order
};

enum class ContourKind {
  slit,
  hole,
  outline,
  aid,  ///< in waste film: weed box and lines, labels, marks, the sheet's end
};
/// An open line is cut from its first point to its last, without overcut.
constexpr bool is_open(ContourKind kind) {
  return kind == ContourKind::slit || kind == ContourKind::aid;
}

/// What the knife does on a stretch of its way.
enum class Phase {
  travel,   ///< knife up
  align,    ///< turning the blade in waste film
  cut,      ///< the tip follows what was drawn
  swivel,   ///< the axis circles the resting tip
  overcut,  ///< past the start, on a line that is cut already
};

/// A way of the knife's axis with the knife down from its first point to its last.
struct Stroke {
  Polyline axis;              ///< roll frame
  std::vector<Phase> phases;  ///< phases[i] is that of axis[i] -> axis[i + 1]

  friend bool operator==(const Stroke&, const Stroke&) = default;
};

/// One line that the knife follows.
struct Contour {
  std::size_t shape = 0;  ///< index into CutJob::shapes, or past them for an aid
  ContourKind kind = ContourKind::outline;
  std::size_t frame = 0;        ///< frames run along the roll, 0 first
  Polyline drawn;               ///< what the tip must follow, the overcut at its end; roll frame
  double drawn_length = 0;      ///< mm of `drawn` before the overcut
  std::vector<Stroke> strokes;  ///< one for a drag knife, more for a tangential one

  friend bool operator==(const Contour&, const Contour&) = default;
};

/// A knife path, ready to be sent.
struct CutPlan {
  std::vector<std::string> pieces;      ///< names by shape index; aids follow, "weed line"
  std::vector<std::string> unlabelled;  ///< pieces that have no room for a label beside them
  Stroke alignment;  ///< in waste film, turns the blade before the first contour; may be empty
  std::vector<Contour> contours;  ///< in cutting order
  Vec2 home;  ///< where the knife is before the job: the machine's origin, roll frame
  Box media;  ///< the rectangle that no knife position may leave
  std::size_t frames = 0;
  double look_back = 0;  ///< mm, the furthest that the film is ever fed back
  double cut_mm = 0;     ///< tip on film, overcuts included
  double travel_mm = 0;  ///< knife up
  Seconds estimated;

  friend bool operator==(const CutPlan&, const CutPlan&) = default;
};

/// A stretch of the knife's way in one phase.
struct KnifeMove {
  Phase phase = Phase::travel;
  std::optional<std::size_t> contour;  ///< index into CutPlan::contours: cut, or travelled to
  Polyline axis;                       ///< starts where the move before ended

  friend bool operator==(const KnifeMove&, const KnifeMove&) = default;
};

/// The whole way of the knife's axis in order, for pictures and replay. It starts at `home`.
std::vector<KnifeMove> moves_of(const CutPlan& plan);

/// Plans the knife path: holes and slits before their outline, small pieces inside others first,
/// frames along the roll, starts on straight stretches, short travel. Zone by zone, when the
/// profile says so, zones come in the order in which the job first names them.
///
/// Units: mm, roll frame. Compensation: docs/algorithms/knife.md.
/// The shapes must not overlap (layout/verify.h says so); one may lie in a hole of another.
/// Errors: invalid_input (nothing to cut; a shape outside the media less its margins or longer than
/// a frame; no waste film to align the blade in), cancelled.
/// Same input, options and profile give the same plan. Cost: about O(n log n) for the geometry and
/// options.iterations cheap steps for the order.
Result<CutPlan> plan_cut(const CutJob& job, const MachineProfile& profile,
                         const CutOptions& options, const Context& context = {});

/// The plan as the machine's HP-GL: prefix, IN, pen, velocity, force, the path, PU, SP0, suffix.
/// What was written between prefix and suffix is read back, and every position of the knife, up or
/// down, must lie on the media. Errors: invalid_input, naming the piece that leaves it.
Result<std::string> emit_hpgl(const CutPlan& plan, const MachineProfile& profile);

}  // namespace film::cutting
