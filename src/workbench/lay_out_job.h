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
  std::string roll;  ///< a roll or an offcut; empty: the roll of that film with most left
  /// Choose among all rolls and offcuts of the film that are at hand, offcuts first where it pays;
  /// `roll` is not looked at.
  bool from_all = false;
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

/// Lays the job's pieces of one film on rolls and offcuts and keeps the layouts, one for each, when
/// the independent check finds no fault; the job's knife paths of that film are forgotten. A stop
/// request of the context ends the search and keeps the best found so far. Answers with the first.
/// Errors: not_found, invalid_input; unsupported (a piece does not fit the roll: nothing is kept),
/// conflict (the job was released, or its scope changed meanwhile; film on a lamp, reflector or
/// sensor that nobody has signed for), cancelled (before anything was
/// found), io.
Result<LayoutView> lay_out_job(Workbench& workbench, const LayoutOrder& order,
                               const Context& context);

/// Whether the order could begin: job, film and roll are there and the job is open. Errors: as
/// lay_out_job.
Result<void> check_order(Workbench& workbench, const LayoutOrder& order);

/// The kept layout of one film (empty: the main one) on one roll or offcut (empty: the first).
/// Errors: not_found, io.
Result<LayoutView> read_layout(Workbench& workbench, const std::string& job,
                               const std::string& film, const std::string& roll = "");

}  // namespace film::workbench
