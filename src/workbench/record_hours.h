#pragma once

#include <map>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "shop/worked.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Time to book on a job.
struct HoursEntry {
  std::string job;
  shop::Task task = shop::Task::laying;
  std::string piece;  ///< id of the panel that was laid; empty for other tasks
  std::string who;
  std::int64_t minutes = 0;
  std::string note;
  std::int64_t strikes = 0;  ///< a record of the job that this one takes back; the rest is then its
};

/// Books the time; for a piece that was laid, with what laying it took: its facts are found as for
/// a price. Errors: not_found (job, panel, record), invalid_input (shop::check), conflict (the
/// record is struck already), io.
Result<shop::Worked> record_hours(Workbench& workbench, const HoursEntry& entry,
                                  const Context& context);

/// All records of the job, oldest first, struck ones with those that strike them. Errors:
/// not_found, io.
Result<std::vector<shop::Worked>> hours_of(Workbench& workbench, const std::string& job);

/// What the shop has learnt so far about how long work takes.
struct LearntHours {
  hours::Amounts believed{};  ///< minutes for one unit of each term, by the price list
  hours::Amounts minutes{};   ///< as learnt
  std::map<std::string, hours::Pace> paces;
  std::size_t records = 0;
  double noise = 0;  ///< of one piece's time, as a share of it
};
Result<LearntHours> learnt_hours(Workbench& workbench);

}  // namespace film::workbench
