#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "exchange/layout_json.h"
#include "layout/problem.h"
#include "layout/solution.h"
#include "shop/kept_layout.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// What to lay out, and how hard to try.
struct LayoutOrder {
  std::string job;
  std::string film;  ///< empty: the job's main film
  std::string roll;  ///< empty: the roll of that film with most left
  double seconds = 20;
  std::uint64_t seed = 1;
  std::string who = "shop";  ///< for the job's history
  /// Hears of every better layout as it is found.
  std::function<void(const layout::Problem&, const layout::Solution&)> on_better;
};

/// A kept layout with its documents read.
struct LayoutView {
  shop::KeptLayout kept;
  layout::Problem problem;
  exchange::LayoutSheet sheet;
};

/// Lays the job's pieces of one film on a roll and keeps the layout when the independent check
/// finds no fault; the job's knife path of that film is forgotten. A stop request of the context
/// ends the search and keeps the best found so far.
/// Errors: not_found, invalid_input; unsupported (a piece does not fit the roll: nothing is kept),
/// conflict (the job was released, or its scope changed meanwhile; film on a lamp, reflector or
/// sensor that nobody has signed for), cancelled (before anything was
/// found), io.
Result<LayoutView> lay_out_job(Workbench& workbench, const LayoutOrder& order,
                               const Context& context);

/// Whether the order could begin: job, film and roll are there and the job is open. Errors: as
/// lay_out_job.
Result<void> check_order(Workbench& workbench, const LayoutOrder& order);

/// The kept layout of one film (empty: the main one). Errors: not_found, io.
Result<LayoutView> read_layout(Workbench& workbench, const std::string& job,
                               const std::string& film);

}  // namespace film::workbench
