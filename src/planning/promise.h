#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "planning/shop_model.h"
#include "planning/shop_plan.h"

namespace film::planning {

/// What many runs of a plan with random durations came to.
struct Simulation {
  std::vector<std::vector<Time>> ends;  ///< of each job, a run each; kNever past the calendar
  double windows_missed = 0;  ///< share of runs in which some task came too late after another
};

/// Works the plan `runs` times: the same people do the same tasks in the same order, each as soon
/// as all it waits for is done, with hands-on durations log-normal about `work` with each task's
/// spread. A task's luck depends on seed, run, job and task alone, so two plans are compared under
/// the same luck. Started tasks keep their times. Too late after another is counted, not mended; so
/// is a shift too short for work that may not pause: it pauses. How many fit at a vehicle is not
/// watched.
Simulation simulate(const Shop& shop, const std::vector<Job>& jobs, const ShopPlan& plan,
                    std::uint64_t seed, int runs);

/// The time by which a job has ended with that chance. Ends come in lumps (a morning holds all that
/// missed the evening), so it is the first time with at least that chance, or the one before where
/// that is nearer to it and at most two in a hundred short. kNever: too few runs to say.
Time quantile(std::vector<Time> ends, double confidence);

struct PromiseOptions {
  double confidence = 0.9;
  int runs = 400;
  std::uint64_t seed = 1;
  std::int64_t iterations = 200;  ///< rounds of search for each plan made
  Time now = 0;
};

/// What stands: the jobs in the shop and the plan it works by.
struct Running {
  std::vector<Job> jobs;
  ShopPlan plan;
};

struct PromiseAnswer {
  Time promise = kNever;  ///< at the chosen confidence; kNever: no room in the calendar given
  Time planned = kNever;  ///< when all goes as planned
  ShopPlan plan;          ///< with the new job last
};

/// The earliest promise found for a new job while every promise that the running plan keeps stays
/// kept in planned durations; other jobs move where their promises allow. What `job` itself
/// promises is not looked at.
Result<PromiseAnswer> earliest_promise(const Shop& shop, const Running& running, const Job& job,
                                       const PromiseOptions& options, const Context& context);

enum class Fits {
  yes,        ///< with a plan
  no,         ///< with a proof
  not_found,  ///< neither; never to be read as no
};

struct FitAnswer {
  Fits fits = Fits::not_found;
  ShopPlan plan;                                           ///< of a yes, with the new job last
  std::string reason;                                      ///< one sentence
  std::vector<std::pair<std::size_t, std::size_t>> tasks;  ///< that the proof rests on
};

/// Can the job be done by `by` while every promise that the running plan keeps stays kept? In terms
/// of planned durations.
Result<FitAnswer> fits_by(const Shop& shop, const Running& running, const Job& job, Time by,
                          const PromiseOptions& options, const Context& context);

/// A promise that a plan breaks and the running plan kept, or broke by less.
struct Slip {
  std::size_t job = 0;
  Time promised = 0;
  Time before = 0;  ///< end in the running plan
  Time after = 0;   ///< end now
  friend bool operator==(const Slip&, const Slip&) = default;
};

/// Overtime or an extra hand, and what is left after it.
struct Remedy {
  std::string text;        ///< "person 3 stays 2 h longer on 4 days"
  std::vector<Slip> left;  ///< slips that it does not save
  bool in_time = false;    ///< the urgent job is done by its time
};

struct RushAnswer {
  FitAnswer urgent;  ///< whether the urgent job fits when it goes before all others
  std::vector<Slip> slips;
  std::vector<Remedy> remedies;  ///< those that help, the best first; none when nothing slips
};

/// An urgent job before all others: what slips, and what would save it.
Result<RushAnswer> rush(const Shop& shop, const Running& running, const Job& job, Time by,
                        const PromiseOptions& options, const Context& context);

}  // namespace film::planning
