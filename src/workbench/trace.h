#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/inspection.h"
#include "shop/installed_piece.h"
#include "shop/job.h"
#include "shop/photo.h"
#include "shop/warranty.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// An installed piece with what people call it.
struct TracedPiece {
  shop::InstalledPiece piece;
  std::string panel_name;
  std::string film_name;
  std::int64_t replaced_by = 0;  ///< number of the piece that took its place; 0: it is on
};

/// All that is known of what is on a job's vehicle.
struct JobTrace {
  shop::Job job;
  std::string vehicle_name;
  std::vector<TracedPiece> pieces;  ///< every one that was ever on it, as they were laid
  std::vector<shop::Inspection> inspections;
  std::vector<shop::HandOver> hand_overs;
  std::vector<shop::Certificate> certificates;
  std::vector<shop::ClaimRecord> claims;  ///< newest first
  std::vector<shop::Photo> photos;
  shop::StepsDone steps;
};

/// Errors: not_found, io.
Result<JobTrace> trace_job(Workbench& workbench, const std::string& job);

/// Pieces of one lot on one job's vehicle.
struct LotVehicle {
  shop::Job job;
  std::string vehicle_name;
  std::vector<TracedPiece> pieces;
};

struct LotTrace {
  std::string lot;
  std::vector<LotVehicle> vehicles;
  std::int64_t next = 0;  ///< ask again after this number; 0: this was all
};

/// Where a lot of film went: vehicles and panels, `most` pieces a page, after the piece with the
/// number `after`. Errors: not_found (no piece of that lot was ever laid), io.
Result<LotTrace> trace_lot(Workbench& workbench, const std::string& lot, std::int64_t after = 0,
                           std::size_t most = 500);

}  // namespace film::workbench
