#pragma once

#include "base/units.h"
#include "pattern/piece.h"
#include "workbench/study_panel.h"

namespace film::workbench {

/// What is cut for a studied panel: its piece, or, where a bulk sheet is laid and trimmed by hand,
/// a rectangle with `bulk_trim` on each side that fits the roll between its `side_margins`.
pattern::Piece piece_to_cut(const Study& study, Mm bulk_trim, Mm side_margins);

}  // namespace film::workbench
