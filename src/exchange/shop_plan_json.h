#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.h"
#include "base/zone.h"
#include "planning/promise.h"
#include "planning/scope.h"
#include "planning/shortage.h"

namespace film::exchange {

/// A shop, its jobs and perhaps an urgent one, as docs/formats/plan.md has it.
struct ShopFile {
  planning::Shop shop;
  planning::Templates templates;
  std::optional<Instant> clock;  ///< of a demo: this is now
  std::vector<planning::Job> jobs;
  std::vector<std::string> titles;          ///< of the jobs, for people
  std::vector<std::vector<char>> finished;  ///< of each job's tasks: 1 when it was reported done
  planning::ShopPlan running;               ///< the plan it holds; no slots: not planned
  std::optional<planning::Job> urgent;      ///< its promise is the time asked for
};

/// Finds a time zone by its name; host::find_zone for real files.
using ZoneFinder = std::function<Result<Zone>(std::string_view)>;

/// Reads such a file; tasks come from the scopes by its templates (else the usual ones), or are
/// given one by one.
/// Errors: invalid_input, with the place in the document; not_found (zone, skill, feature);
/// too_large past 8 MB, 400 days, 500 jobs, 200 people or bays.
Result<ShopFile> read_shop_file(std::string_view bytes, const ZoneFinder& zones);

/// The same from two documents as the shop's book keeps them: who and what there is, and
/// {"jobs": [...]}. The calendar begins on the day of `now`, or sooner where the jobs' plan does,
/// and goes `days` on.
Result<ShopFile> read_shop_parts(std::string_view workplace, std::string_view jobs, Instant now,
                                 int days, const ZoneFinder& zones);

/// A job of the form of `jobs[]`, with its title, for a shop that was read. Errors as above.
Result<std::pair<planning::Job, std::string>> read_plan_job(std::string_view bytes,
                                                            const ShopFile& file);

/// {"jobs": [...]} with every task, what has started, and the plan; times in UTC. Read again it
/// gives the same jobs.
std::string write_plan_jobs(const ShopFile& file);

/// The workplace with one more absence of a person.
/// Errors: not_found (the person).
Result<std::string> with_absence(std::string_view workplace, const std::string& person,
                                 const std::string& from, const std::string& until);

/// The workplace with its clock set to `clock` ("2031-05-05T08:00").
Result<std::string> with_clock(std::string_view workplace, const std::string& clock);

/// The workplace with the usual way of working written out where it has none of its own.
Result<std::string> with_templates(std::string_view workplace);

/// "2031-05-05T08:00" by the shop's wall clock; empty for kNever.
std::string wall_time(const planning::Shop& shop, planning::Time t);
/// The step at such a time, which may end in Z for UTC. Errors: invalid_input.
Result<planning::Time> step_of(const planning::Shop& shop, const std::string& time);

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
