#pragma once

#include <string>

#include "base/context.h"
#include "base/result.h"
#include "cutting/plan.h"
#include "exchange/layout_json.h"
#include "workbench/write_cut_file.h"

namespace film::workbench {

/// A layout turned into a knife path and the bytes for the machine.
struct LayoutCut {
  cutting::CutPlan plan;
  std::string plot;  ///< HP-GL
  Vec2 moved;        ///< by which the whole layout was moved to clear the machine's margins, mm
};

/// Cuts a finished layout, without the shop's book. A layout without margins is moved as a whole
/// so that it clears those of the machine, when the media is wide enough. Layouts that do not say
/// their unit are taken as millimetres.
/// Errors: invalid_input (an unplaced piece, two pieces that overlap, the layout wider than the
/// media less its margins), and those of plan_cut and emit_hpgl.
Result<LayoutCut> cut_layout(const exchange::LayoutSheet& sheet,
                             const cutting::MachineProfile& profile,
                             const cutting::CutOptions& options, const Context& context = {});

/// The test pattern of cutting/test_pattern.h for the machine. Errors: as there, and those of
/// plan_cut and emit_hpgl.
Result<LayoutCut> cut_test_pattern(const cutting::MachineProfile& profile, Mm side);

/// The cut as a file: HP-GL for the machine, SVG and PDF with travel and order numbers, DXF with
/// the bare contours. All at true size. `created` is what a PDF says of its making, ISO 8601.
/// A long PDF is parted into pages. Errors: io.
Result<std::string> file_of(const LayoutCut& cut, CutForm form, const std::string& created);

}  // namespace film::workbench
