#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "cutting/plan.h"
#include "exchange/layout_json.h"
#include "shop/recut.h"
#include "workbench/find_film.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Where a laid piece of a job can be cut again, cheapest first. Errors: not_found (job, piece:
/// only pieces that were laid can be cut again; profile), conflict (the job is cancelled), io.
Result<std::vector<FilmPlace>> recut_places(Workbench& workbench, const std::string& job,
                                            const std::string& piece,
                                            const std::string& profile = "",
                                            const Context& context = {});

/// A piece that is to be made again.
struct RecutOrder {
  std::string job;
  std::string piece;
  shop::RecutReason reason = shop::RecutReason::crease;
  std::string note;
  std::string stock;        ///< roll or offcut; empty: the cheapest place
  std::string profile;      ///< of the machine; empty: that of the piece's own knife path
  bool keep_rests = false;  ///< put what is worth keeping on the shelf
  std::string who = "shop";
  std::string claim = {};  ///< that the recut answers; empty: none
};

struct RecutView {
  shop::Recut record;
  bool offcut = false;  ///< it is cut from one
  exchange::LayoutSheet sheet;
  cutting::CutPlan plan;
  std::string profile;
  std::string address;            ///< of the machine; empty: the plot is carried to it
  std::vector<std::string> kept;  ///< offcuts put on the shelf
};

/// Finds the place, plans the knife path of this one piece, books the film (an offcut is gone with
/// it), keeps layout and HP-GL, and notes it in the job's history. Where the machine has a link, a
/// cutting run is made that sends it (workbench/book_run.h); its film is booked already.
/// Errors: as recut_places; unsupported (no film at hand takes the piece), conflict (the film went
/// elsewhere meanwhile; the machine is cutting), those of cutting::plan_cut, io.
Result<RecutView> recut_piece(Workbench& workbench, const RecutOrder& order,
                              const Context& context = {});

/// The same for the piece that a claim is about; `order.claim` names it, job and piece come from
/// it. Errors: not_found (claim), conflict (its newest ruling asks for no recut, or there was one
/// already), unsupported (the piece was not pre-cut), those of recut_piece.
Result<RecutView> recut_claim(Workbench& workbench, RecutOrder order, const Context& context = {});

/// The recuts of a job, or of all jobs where it is empty, oldest first. Errors: not_found, io.
Result<std::vector<shop::Recut>> recuts_of(Workbench& workbench, const std::string& job);

/// The HP-GL of a recut, as it was kept. Errors: not_found, io.
Result<std::string> recut_plot(Workbench& workbench, const std::string& recut);

}  // namespace film::workbench
