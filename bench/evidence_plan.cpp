// Plans the public benchmark instances and generated shops, and holds the ends of the plans against
// the best known. Beside every instance runs a packaged constraint solver, in the same time.
//
//   bench_evidence_plan [PART...] [--seconds S] [--seeds N] [--peer-seeds N]
//
// Parts: j30 j60 j120 lags answers proofs small replans calibration; all of them by default, some
// 35 minutes on two free cores. S seconds an instance (5) on each of two cores, N runs of each of
// ours (5) and the peer's (1); --peer-seeds 0 leaves the peer out. Time is processor time, so other
// work on the machine makes it slower but not different.
// One line of JSON a figure on stdout; one line an instance on stderr.

#include <algorithm>
#include <cctype>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "base/text.h"
#include "evidence_plan/peer.h"
#include "evidence_plan/processor_time.h"
#include "evidence_plan/shop.h"
#include "exchange/plan_files.h"
#include "figure.h"
#include "host/files.h"
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

/// What one solver made of an instance.
void count(const Instance& instance, const planning::Project& project, const planning::Plan& plan,
           Tally& tally) {
  ++tally.runs;
  const bool none = instance.status == "infeasible";
  if (none) ++tally.infeasible_runs;
  if (plan.status == planning::Status::infeasible) {
    ++(none ? tally.proven_infeasible : tally.false_answers);
  }
  if (plan.starts.empty()) return;
  if (!planning::verify(project, plan.starts).empty()) ++tally.violations;
  if (none || plan.makespan < instance.lower || plan.lower_bound > instance.upper) {
    ++tally.false_answers;
  }
  ++tally.solved;
  if (plan.makespan <= instance.upper) ++tally.at_best;
  if (plan.status == planning::Status::optimal) ++tally.optimal;
  tally.gap += 100.0 * (plan.makespan - instance.upper) / instance.upper;
}

void tell(const char* who, const Instance& instance, std::uint64_t seed, const planning::Plan& plan,
          double seconds) {
  std::fprintf(stderr, "%-6s %-26s seed %d  best %4d  found %4d  bound %4d  %-10s %6.2f s\n", who,
               instance.file.c_str(), static_cast<int>(seed), instance.upper, plan.makespan,
               plan.lower_bound, std::string(planning::name_of(plan.status)).c_str(), seconds);
}

struct Arguments {
  std::vector<std::string> parts;
  double seconds = 5;
  std::uint64_t seeds = 5;
  std::uint64_t peer_seeds = 1;

  [[nodiscard]] bool has(const std::string& part) const {
    return parts.empty() || std::find(parts.begin(), parts.end(), part) != parts.end();
  }
};

Arguments read(int argc, char** argv) {
  Arguments arguments;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    if (word.rfind("--", 0) != 0) {
      arguments.parts.push_back(word);
      for (char& c : arguments.parts.back()) c = static_cast<char>(std::tolower(c));
    } else if (i + 1 < argc) {
      const double value = std::atof(argv[++i]);
      if (word == "--seconds") arguments.seconds = value;
      if (word == "--seeds") arguments.seeds = static_cast<std::uint64_t>(value);
      if (word == "--peer-seeds") arguments.peer_seeds = static_cast<std::uint64_t>(value);
    }
  }
  return arguments;
}

/// Ours and the peer's, by part.
struct Tallies {
  std::map<std::string, Tally> ours, peer;
};

Tallies run_instances(const Arguments& arguments) {
  Tallies tallies;
  for (const Instance& instance : instances()) {
    const std::string part = instance.problem == "rcpsp" ? instance.set : "lags";
    if (!arguments.has(part)) continue;
    const auto bytes = host::read_file(kFolder + instance.file);
    const auto project =
        bytes ? exchange::read_project(*bytes) : Result<planning::Project>(Failure(bytes.error()));
    if (!project) {
      std::fprintf(stderr, "%s: %s\n", instance.file.c_str(), project.error().message().c_str());
      ++tallies.ours[part].violations;
      continue;
    }
    for (std::uint64_t seed = 1; seed <= arguments.seeds; ++seed) {
      bench::TwoCores cores(arguments.seconds);
      planning::Options options;
      options.seed = seed;
      const auto plan = planning::solve(*project, options,
                                        Context([&cores] { return cores.stopped(); }, {}, &cores));
      count(instance, *project, *plan, tallies.ours[part]);
      tell("ours", instance, seed, *plan, cores.seconds());
    }
#ifdef FILM_WITH_GECODE
    for (std::uint64_t seed = 1; seed <= arguments.peer_seeds; ++seed) {
      const bench::ProcessorWatch watch;
      const auto plan = bench::plan_with_peer(*project, arguments.seconds, seed);
      count(instance, *project, plan, tallies.peer[part]);
      tell("peer", instance, seed, plan, watch.seconds() / 2);
    }
#endif
  }
  return tallies;
}

void figure(const std::string& name, const std::string& value, const std::string& target,
            std::optional<bool> met) {
  bench::say(name, value, target, kSource, met);
}

std::string summary(const Tally& t) {
  return format("{:.3f} % ({} of {} runs solved, {} at best known, {} proven optimal)",
                t.solved > 0 ? t.gap / t.solved : 100, t.solved, t.runs, t.at_best, t.optimal);
}

void report_rcpsp(const std::string& set, const Tally& t, double seconds, double most_gap) {
  const double gap = t.solved > 0 ? t.gap / t.solved : 100;
  figure(format("{}: mean gap to best known, {} s on each of 2 cores", set, seconds), summary(t),
         format("at most {} %", most_gap), t.solved == t.runs && gap <= most_gap);
  if (set == "j30") {
    const double share = 100.0 * t.at_best / std::max(t.runs, 1);
    figure("j30: at the optimum", format("{:.1f} %", share), "at least 99 %", share >= 99);
  }
}

std::string lags_summary(const Tally& t) {
  const int feasible = t.runs - t.infeasible_runs;
  return format("{} of {} solved, {} at best known, {} of {} infeasible proven", t.solved, feasible,
                t.at_best, t.proven_infeasible, t.infeasible_runs);
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

void report(const Tallies& tallies, double seconds, std::uint64_t peer_seeds) {
  const std::map<std::string, double> most_gap{{"j30", 0.02}, {"j60", 0.3}, {"j120", 1.0}};
  Tally all;
  for (const char* part : {"j30", "j60", "j120", "lags"}) {
    const auto ours = tallies.ours.find(part);
    if (ours == tallies.ours.end()) continue;
    const Tally& tally = ours->second;
    const bool lags = std::string(part) == "lags";
    if (lags) {
      report_lags(tally);
    } else {
      report_rcpsp(part, tally, seconds, most_gap.at(part));
    }
    if (const auto peer = tallies.peer.find(part); peer != tallies.peer.end()) {
      const Tally& other = peer->second;
      figure(format("{}: the same in the same run by the constraint solver Gecode 6.2, {} run each",
                    lags ? "time lags" : part, peer_seeds),
             lags ? lags_summary(other) : summary(other), "", std::nullopt);
    }
    all.violations += tally.violations;
    all.false_answers += tally.false_answers;
    all.runs += tally.runs;
  }
  if (all.runs == 0) return;
  figure("plans that the independent verifier refuses",
         format("{} of {}", all.violations, all.runs), "0", all.violations == 0);
  figure("answers that contradict the best known bounds",
         format("{} of {}", all.false_answers, all.runs), "0", all.false_answers == 0);
}

}  // namespace

int main(int argc, char** argv) {
  const Arguments arguments = read(argc, argv);
  report(run_instances(arguments), arguments.seconds, arguments.peer_seeds);
  if (arguments.has("answers")) bench::report_answers();
  if (arguments.has("proofs")) bench::report_proofs();
  if (arguments.has("small")) bench::report_small();
  if (arguments.has("replans")) bench::report_replans();
  if (arguments.has("calibration")) bench::report_calibration();
  return 0;
}
