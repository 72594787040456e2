#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "pattern/from_surface.h"
#include "surface/cut_out.h"

namespace film::workbench {

/// Where a panel ends on a scan, and what its edges are.
struct PanelRequest {
  surface::CutOutOptions cut;
  /// What the legs of the line are, from the first point on; legs without one are panel gaps.
  std::vector<pattern::EdgeKind> legs;
};

/// A panel cut out of a scan, its boundary as named stretches.
struct ScannedPanel {
  surface::CutOut cut;
  /// "leg 1" ... along the line; "hem 1" ... at creases where the surface turns away, "crease 1"
  /// ... at others (gaps); "rim 1" ... where the scan ends (gaps); "opening 1" ... (cut-outs).
  std::vector<pattern::BoundaryPath> edges;
};

/// Cuts a panel out of a scan; points of the scan that lie at the same place are one.
/// Errors: those of surface::cut_out.
Result<ScannedPanel> cut_panel(const TriMesh& scan, const PanelRequest& request,
                               const Context& context = {});

/// The panel's surface as OBJ, mm; its vertices in the order that the edges' paths count.
std::string panel_mesh(const ScannedPanel& panel);

/// The panel laid flat (workbench/flatten_mesh.h, defaults) and extended as a piece of that name.
/// Errors: those of surface::clean and flatten, pattern::piece_from_surface and extend.
Result<pattern::Piece> panel_piece(const ScannedPanel& panel, const std::string& id,
                                   const Context& context = {});

}  // namespace film::workbench
