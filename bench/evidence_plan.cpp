// Plans the public benchmark instances and holds the ends of the plans against the best known.
//
//   bench_evidence_plan [SECONDS [SEEDS [SET]]]
//   bench_evidence_plan shop                      only the plans of generated shops (a minute)
//
// SECONDS an instance (default 5), SEEDS runs of each (default 5), SET one of j30 j60 j120 rcpsp
// rcpsp-max ... One line of JSON a figure on stdout; one line an instance on stderr.

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "base/text.h"
#include "evidence_plan/shop.h"
#include "exchange/plan_files.h"
#include "figure.h"
#include "host/files.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "planning/solve.h"
#include "planning/verify.h"

namespace {

using namespace film;

const std::string kFolder = FILM_SOURCE_DIR "/../shared/data/scheduling/";
const char* const kSource =
    "PSPLIB (Kolisch, Sprecher 1996); best known: ../shared/data/scheduling/best_known.csv";

struct Instance {
  std::string problem, set, file, status;
  int lower = 0;
  int upper = 0;
};

std::vector<Instance> instances() {
  auto bytes = host::read_file(kFolder + "best_known.csv");
  std::vector<Instance> all;
  if (!bytes) return all;
  std::istringstream lines(*bytes);
  std::string line;
  std::getline(lines, line);
  while (std::getline(lines, line)) {
    std::vector<std::string> cells;
    std::istringstream row(line);
    for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
    if (cells.size() < 7) continue;
    all.push_back({cells[0], cells[1], cells[2], cells[6], std::atoi(cells[4].c_str()),
                   std::atoi(cells[5].c_str())});
  }
  return all;
}

struct Tally {
  int runs = 0;
  int infeasible_runs = 0;
  int proven_infeasible = 0;
  int solved = 0;
  int at_best = 0;
  int optimal = 0;
  int false_answers = 0;
  int violations = 0;
  double gap = 0;
};

void run(const Instance& instance, double seconds, std::uint64_t seed, Executor& executor,
         Tally& tally) {
  auto bytes = host::read_file(kFolder + instance.file);
  auto project =
      bytes ? exchange::read_project(*bytes) : Result<planning::Project>(Failure(bytes.error()));
  ++tally.runs;
  if (!project) {
    std::fprintf(stderr, "%s: %s\n", instance.file.c_str(), project.error().message().c_str());
    ++tally.violations;
    return;
  }
  const host::Stopwatch watch;
  planning::Options options;
  options.seed = seed;
  auto plan = planning::solve(*project, options, Context(host::stop_after(seconds), {}, &executor));
  const bool none = instance.status == "infeasible";
  if (none) ++tally.infeasible_runs;
  if (plan->status == planning::Status::infeasible) {
    ++(none ? tally.proven_infeasible : tally.false_answers);
  }
  if (!plan->starts.empty()) {
    if (!planning::verify(*project, plan->starts).empty()) ++tally.violations;
    if (none || plan->makespan < instance.lower || plan->lower_bound > instance.upper) {
      ++tally.false_answers;
    }
    ++tally.solved;
    if (plan->makespan <= instance.upper) ++tally.at_best;
    if (plan->status == planning::Status::optimal) ++tally.optimal;
    tally.gap += 100.0 * (plan->makespan - instance.upper) / instance.upper;
  }
  std::fprintf(stderr, "%-26s seed %d  best %4d  found %4d  bound %4d  %-10s %6.2f s  %ld rounds\n",
               instance.file.c_str(), static_cast<int>(seed), instance.upper, plan->makespan,
               plan->lower_bound, std::string(planning::name_of(plan->status)).c_str(),
               watch.seconds(), static_cast<long>(plan->iterations));
}

void figure(const std::string& name, const std::string& value, const std::string& target,
            bool met) {
  bench::say(name, value, target, kSource, met);
}

void report_rcpsp(const std::string& set, const Tally& t, double seconds, double most_gap) {
  const double gap = t.solved > 0 ? t.gap / t.solved : 100;
  figure(format("{}: mean gap to best known, {} s, 2 threads", set, seconds),
         format("{:.3f} % ({} runs, {} proven optimal)", gap, t.runs, t.optimal),
         format("at most {} %", most_gap), t.solved == t.runs && gap <= most_gap);
  if (set == "j30") {
    const double share = 100.0 * t.at_best / std::max(t.runs, 1);
    figure("j30: at the optimum", format("{:.1f} %", share), "at least 99 %", share >= 99);
  }
}

void report_lags(const Tally& t) {
  const int feasible = t.runs - t.infeasible_runs;
  figure("time lags: feasible instances solved", format("{} of {} runs", t.solved, feasible), "all",
         t.solved == feasible);
  figure("time lags: infeasible instances proven",
         format("{} of {} runs", t.proven_infeasible, t.infeasible_runs), "all",
         t.proven_infeasible == t.infeasible_runs);
  figure("time lags: at best known",
         format("{} of {} runs, {} proven optimal", t.at_best, feasible, t.optimal),
         "at least 80 %", t.at_best * 10 >= feasible * 8);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc > 1 && std::string(argv[1]) == "shop") {
    bench::report_shop();
    return 0;
  }
  const double seconds = argc > 1 ? std::atof(argv[1]) : 5;
  const int seeds = argc > 2 ? std::atoi(argv[2]) : 5;
  const std::string only = argc > 3 ? argv[3] : "";
  host::ThreadExecutor executor(2);
  std::map<std::string, Tally> tallies;  // by set; all sets with time lags together
  for (const Instance& instance : instances()) {
    if (!only.empty() && instance.set != only && instance.problem != only) continue;
    Tally& tally = tallies[instance.problem == "rcpsp" ? instance.set : "lags"];
    for (int seed = 1; seed <= seeds; ++seed) {
      run(instance, seconds, static_cast<std::uint64_t>(seed), executor, tally);
    }
  }
  const std::map<std::string, double> most_gap{{"j30", 0.02}, {"j60", 0.3}, {"j120", 1.0}};
  Tally all;
  for (const auto& [set, tally] : tallies) {
    if (set == "lags") {
      report_lags(tally);
    } else {
      report_rcpsp(set, tally, seconds, most_gap.at(set));
    }
    all.violations += tally.violations;
    all.false_answers += tally.false_answers;
    all.runs += tally.runs;
  }
  figure("plans that the independent verifier refuses",
         format("{} of {}", all.violations, all.runs), "0", all.violations == 0);
  figure("answers that contradict the best known bounds",
         format("{} of {}", all.false_answers, all.runs), "0", all.false_answers == 0);
  if (only.empty()) bench::report_shop();
  return 0;
}
