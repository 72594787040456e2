#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "base/zone.h"
#include "planning/promise.h"
#include "planning/shortage.h"

namespace film::exchange {

/// A shop, its jobs and perhaps an urgent one, as docs/formats/plan.md has it.
struct ShopFile {
  planning::Shop shop;
  std::vector<planning::Job> jobs;
  std::optional<planning::Job> urgent;  ///< its promise is the time asked for
};

/// Finds a time zone by its name; host::find_zone for real files.
using ZoneFinder = std::function<Result<Zone>(std::string_view)>;

/// Reads such a file; tasks come from the scopes by the usual templates.
/// Errors: invalid_input, with the place in the document; not_found (zone, skill, feature);
/// too_large past 8 MB, 400 days, 500 jobs, 200 people or bays.
Result<ShopFile> read_shop_file(std::string_view bytes, const ZoneFinder& zones);

/// What was planned for such a file.
struct ShopOutcome {
  planning::ShopAnswer answer;
  std::vector<planning::Time> sure;            ///< of each job: the end at the chosen confidence
  std::optional<planning::Shortage> shortage;  ///< why not all promises can be kept
  std::optional<planning::PromiseAnswer> promise;  ///< of the urgent job, others kept
  std::optional<planning::RushAnswer> rush;        ///< of the urgent job, before all others
};

/// One JSON object; times by the shop's wall clock.
std::string write_shop_outcome(const ShopFile& file, const ShopOutcome& outcome);

}  // namespace film::exchange
