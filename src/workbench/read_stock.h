#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/offcut.h"
#include "shop/recut.h"
#include "shop/roll.h"
#include "shop/stock_ledger.h"
#include "shop/supply.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// All film at hand, and what to order.
struct StockView {
  std::vector<shop::Roll> rolls;  ///< empty ones too
  std::vector<shop::Offcut> offcuts;
  std::vector<shop::Outlook> outlooks;
  std::vector<shop::FilmNeed> needs;  ///< that the outlooks reckon with
};

/// Open jobs need what their layouts take and is not cut yet; one that is not laid out yet, the
/// shop's mean length a panel of that film on its widest supply. Errors: io.
Result<StockView> read_stock(Workbench& workbench);

/// A roll or offcut with its ledger, oldest line first.
struct StockHistory {
  shop::Roll roll;
  std::vector<shop::StockLine> lines;
};
/// Errors: not_found, io.
Result<StockHistory> read_ledger(Workbench& workbench, const std::string& roll);

/// Where the film of a piece comes from.
struct PieceLot {
  std::string piece;
  std::string film;
  std::string roll;  ///< or offcut
  std::string lot;
  std::string recut;  ///< id of the last recut; empty: as first cut

  friend bool operator==(const PieceLot&, const PieceLot&) = default;
};
/// The lot of each laid piece of the job, by film and piece; recuts count. Errors: not_found, io.
Result<std::vector<PieceLot>> lots_of_job(Workbench& workbench, const std::string& job);

}  // namespace film::workbench
