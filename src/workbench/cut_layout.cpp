#include "workbench/cut_layout.h"

#include <algorithm>
#include <vector>

#include "base/text.h"
#include "cutting/picture.h"
#include "cutting/test_pattern.h"
#include "formats/dxf.h"
#include "formats/pdf.h"
#include "formats/svg.h"
#include "layout/verify.h"

namespace film::workbench {
namespace {

std::string name_of(const exchange::LaidPiece& piece) {
  return piece.copy == 0 ? piece.item : format("{} ({})", piece.item, piece.copy + 1);
}

Result<void> check_apart(const exchange::LayoutSheet& sheet) {
  std::vector<Box> boxes;
  for (const auto& piece : sheet.pieces) boxes.push_back(bounding_box(piece.outline));
  for (std::size_t a = 0; a < boxes.size(); ++a) {
    for (std::size_t b = a + 1; b < boxes.size(); ++b) {
      if (boxes[a].touches(boxes[b]) &&
          layout::interiors_meet(sheet.pieces[a].outline, sheet.pieces[b].outline)) {
        return fail(
            ErrorCode::invalid_input,
            format("pieces {} and {} overlap", name_of(sheet.pieces[a]), name_of(sheet.pieces[b])),
            sheet.name, "Make the layout again; an overlap spoils both pieces");
      }
    }
  }
  return {};
}

/// The least move along one axis that brings [low, high] to or past `least`.
double nudge(double low, double least) { return std::max(0.0, least - low); }

Result<LayoutCut> cut_job(const cutting::CutJob& job, const cutting::MachineProfile& profile,
                          const cutting::CutOptions& options, const Context& context) {
  auto plan = cutting::plan_cut(job, profile, options, context);
  if (!plan) return Failure(plan.error());
  auto plot = cutting::emit_hpgl(*plan, profile);
  if (!plot) return Failure(plot.error());
  return LayoutCut{std::move(*plan), std::move(*plot), {}};
}

}  // namespace

Result<LayoutCut> cut_layout(const exchange::LayoutSheet& sheet,
                             const cutting::MachineProfile& profile,
                             const cutting::CutOptions& options, const Context& context) {
  if (!sheet.unplaced.empty()) {
    return fail(ErrorCode::invalid_input,
                format("{} of the layout's pieces are not placed: {}", sheet.unplaced.size(),
                       sheet.unplaced.front()),
                sheet.name, "Lay them out on a wider or longer roll first");
  }
  if (auto apart = check_apart(sheet); !apart) return Failure(apart.error());

  Box box;
  for (const auto& piece : sheet.pieces) box.add(bounding_box(piece.outline));
  LayoutCut cut;
  cut.moved.x = nudge(box.low.x, profile.margins.lead.value);
  cut.moved.y = nudge(box.low.y, profile.margins.low.value);
  const double top = (profile.media_width - profile.margins.high).value;
  if (box.height() > top - profile.margins.low.value) {
    return fail(ErrorCode::invalid_input,
                format("the pieces lie {:.1f} mm wide, but the machine reaches {:.1f} mm",
                       box.height(), top - profile.margins.low.value),
                sheet.name, "Lay them out for the width of this machine less its margins");
  }
  if (box.high.y + cut.moved.y > top) cut.moved.y = top - box.high.y;

  cutting::CutJob job;
  job.length = Mm{sheet.length + cut.moved.x};
  for (const auto& piece : sheet.pieces) {
    const Placement placement{0, cut.moved};
    cutting::Shape shape{name_of(piece), apply(placement, piece.outline), {}, piece.zone};
    for (const Polyline& slit : piece.slits) {
      shape.slits.push_back(apply(placement, std::span(slit)));
    }
    job.shapes.push_back(std::move(shape));
  }
  auto planned = cut_job(job, profile, options, context);
  if (planned) planned->moved = cut.moved;
  return planned;
}

Result<LayoutCut> cut_test_pattern(const cutting::MachineProfile& profile, Mm side) {
  const auto job = cutting::test_pattern(profile, side);
  if (!job) return Failure(job.error());
  return cut_job(*job, profile, {}, {});
}

Result<std::string> file_of(const LayoutCut& cut, CutForm form, const std::string& created) {
  switch (form) {
    case CutForm::plt: return cut.plot;
    case CutForm::svg: return formats::write_svg(cutting::picture_of(cut.plan));
    case CutForm::dxf: return formats::write_dxf(cutting::contours_of(cut.plan));
    case CutForm::pdf:
      return formats::write_pdf(cutting::picture_of(cut.plan), {"Knife path", "", created});
  }
  return cut.plot;
}

}  // namespace film::workbench
