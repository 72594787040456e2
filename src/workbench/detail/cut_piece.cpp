#include "workbench/detail/cut_piece.h"

#include <algorithm>

#include "geometry/box.h"
#include "pattern/edges.h"

namespace film::workbench {
namespace {

/// The sheet from which a bulk panel is trimmed by hand: its flat shape's bounding box and the
/// trim, but never wider than the roll, over which the film is stretched.
pattern::Piece bulk_sheet(const Study& study, Mm trim, Mm widest) {
  const Box box = bounding_box(study.piece.fold);
  const Vec2 middle = 0.5 * (box.low + box.high);
  const double long_side = box.high.x - box.low.x + 2 * trim.value;
  const double short_side = std::min(box.high.y - box.low.y + 2 * trim.value, widest.value);
  const Vec2 half{0.5 * long_side, 0.5 * short_side};
  const Vec2 a = middle - half;
  const Vec2 b = middle + half;
  pattern::Piece sheet =
      pattern::piece_from_outline(study.piece.id, {{a, {b.x, a.y}, b, {a.x, b.y}}, {}});
  for (auto& edge : sheet.edges) edge.allowance = Mm{0};
  sheet.cut = sheet.fold;
  sheet.name = study.piece.name;
  sheet.zone = study.piece.zone;
  sheet.grain = study.piece.grain;
  sheet.twin_of = study.piece.twin_of;
  sheet.labels = {{study.piece.name, middle, Angle{0}}};
  return sheet;
}

}  // namespace

pattern::Piece piece_to_cut(const Study& study, Mm bulk_trim, Mm side_margins) {
  if (study.laying.method.choice != surface::Choice::bulk) return study.piece;
  return bulk_sheet(study, bulk_trim, study.roll_width - side_margins);
}

}  // namespace film::workbench
