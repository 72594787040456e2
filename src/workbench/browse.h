#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/film.h"
#include "shop/job.h"
#include "shop/kept_layout.h"
#include "shop/profile.h"
#include "shop/roll.h"
#include "shop/settings.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A kind of vehicle without its surfaces.
struct VehicleSummary {
  std::string id;
  std::string name;
  int version = 1;
  std::size_t panels = 0;
};

/// A job with what was made for it.
struct JobView {
  shop::Job job;
  std::vector<shop::KeptLayout> layouts;
  std::vector<shop::KeptCut> cuts;
};

// Reading the book. Errors: not_found where one record is asked for; io.
Result<shop::Settings> shop_settings(Workbench& workbench);
Result<std::vector<VehicleSummary>> vehicles(Workbench& workbench);
Result<std::vector<shop::Film>> films(Workbench& workbench);
Result<std::vector<shop::Roll>> rolls(Workbench& workbench);
Result<std::vector<shop::KnifeProfile>> profiles(Workbench& workbench);
/// Jobs to look through, a page at a time.
struct JobList {
  std::string text;  ///< held by number, title or customer; may be empty
  std::optional<shop::JobState> state;
  std::string before;      ///< `next` of the page before; empty: the first page
  std::size_t most = 200;  ///< 1 to 200
};
struct JobPage {
  std::vector<JobView> jobs;  ///< newest first
  std::string next;           ///< the last job here when older ones follow, else empty
};
/// Errors: not_found (`before` is no job), io.
Result<JobPage> jobs(Workbench& workbench, const JobList& list = {});
Result<JobView> job(Workbench& workbench, const std::string& id);
Result<std::vector<shop::HistoryEntry>> history(Workbench& workbench, const std::string& job);

/// Whether the book answers: a short read, for a readiness check.
Result<void> check_ready(Workbench& workbench);

}  // namespace film::workbench
