#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "exchange/layout_json.h"
#include "geometry/box.h"
#include "layout/verify.h"
#include "workbench/lay_out_job.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A kept layout as a hand has changed it.
struct LayoutEdit {
  std::string job;
  std::string film;  ///< empty: the job's main film
  std::string of;    ///< content hash of the layout that was edited: another one is a conflict
  /// Every piece where it is to lie; outlines, labels and slits are not looked at.
  std::vector<exchange::LaidPiece> pieces;
  /// Faulty places of the film, as boxes on the roll; nothing: those the layout has.
  std::optional<std::vector<Box>> defects;
};

/// A broken rule, with the pieces (id, copy) that break it.
struct Clash {
  layout::Rule rule = layout::Rule::overlap;
  std::string what;
  std::vector<std::pair<std::string, int>> pieces;
};

struct EditCheck {
  double length = 0;   ///< of roll used, mm
  double density = 0;  ///< share of it that is pieces
  std::vector<Clash> clashes;
};

// Errors of all: not_found, conflict (another layout was kept meanwhile), invalid_input (a piece
// that the layout lacks), io.

/// What the edited layout takes and breaks. With `moved` (an index into the pieces) only what
/// concerns that piece is judged: for a hand that drags it, a millisecond or two.
Result<EditCheck> check_edit(Workbench& workbench, const LayoutEdit& edit,
                             std::optional<std::size_t> moved = std::nullopt);

/// The free place nearest to where the piece at `moved` lies, without turning it: nothing when
/// there is none within `reach`. A search over rings of places, exact in its verdicts.
Result<std::optional<Vec2>> settle(Workbench& workbench, const LayoutEdit& edit, std::size_t moved,
                                   double reach);

/// The edited layout with the pieces at `kept` exactly where they are and the others pushed aside
/// (see layout::make_room). Further error: conflict when the kept ones clash among themselves.
Result<exchange::LayoutSheet> make_room_for(Workbench& workbench, const LayoutEdit& edit,
                                            std::span<const std::size_t> kept,
                                            const Context& context);

/// Keeps the edited layout when the independent check finds no fault; the job's knife path of the
/// film is forgotten. Further errors: conflict (the job is not open; a rule is broken, the first is
/// named), and those of lay_out_job.
Result<LayoutView> keep_edit(Workbench& workbench, const LayoutEdit& edit, const std::string& who);

/// A search that goes on from an edited layout.
struct SqueezeOrder {
  LayoutEdit
      edit;  ///< its pieces may be missing or clash: the search mends that; none: a fresh one
  std::vector<exchange::LaidPiece> locked = {};  ///< must lie exactly here
  double seconds = 20;
  std::string who = "shop";
  /// Hears of every better layout as it is found.
  std::function<void(const layout::Problem&, const layout::Solution&)> on_better = {};
};

/// Searches on, on the same roll or offcut, and keeps what is found; a stop request ends the search
/// and keeps the best so far. Further errors: conflict (the job is not open; locked pieces clash
/// among themselves), unsupported (a piece finds no room: nothing is kept), cancelled.
Result<LayoutView> squeeze_layout(Workbench& workbench, const SqueezeOrder& order,
                                  const Context& context);

}  // namespace film::workbench
