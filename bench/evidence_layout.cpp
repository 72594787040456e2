// Measures what docs/evidence.md says of layout: one JSON object a line.
//
// bench_evidence_layout [SECONDS...]   strip instances for these times (default 10 with 3 seeds,
//                                      60 with 1); 600 gives the long rows. A time of 60 or more
//                                      is run with as many seeds as --seeds says.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "exchange/layout_json.h"
#include "figure.h"
#include "host/files.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "layout/solve.h"
#include "layout/verify.h"

namespace film {
namespace {

using namespace layout;

constexpr const char* kReference =
    "mean of 100 published runs, shared/data/nesting/reference_runs.csv (arXiv 2509.13329)";

struct Instance {
  const char* name;
  double reference_pct;
};
constexpr Instance kInstances[] = {{"albano", 89.47},  {"blaz1", 84.67},   {"dagli", 89.26},
                                   {"fu", 92.23},      {"jakobs1", 89.08}, {"mao", 86.14},
                                   {"marques", 90.93}, {"shapes0", 68.59}, {"shapes1", 75.68},
                                   {"shirts", 89.66},  {"swim", 78.26}};

void judge(const std::string& figure, const std::string& value, const std::string& target, bool met,
           const std::string& source = "") {
  bench::say(figure, value, target, source, met);
}

Problem instance(const std::string& name) {
  const auto bytes =
      host::read_file(std::string(FILM_SOURCE_DIR) + "/../shared/data/nesting/" + name + ".json");
  auto problem =
      bytes ? exchange::read_layout_problem(*bytes) : Result<Problem>(Failure(bytes.error()));
  if (!problem) {
    std::fprintf(stderr, "%s\n", problem.error().message().c_str());
    std::exit(1);
  }
  return *std::move(problem);
}

struct Run {
  Solution solution;
  double first_ms = 0;
  double first_density = 0;
  bool valid = false;
};

Run run(const Problem& problem, double seconds, std::uint64_t seed, std::size_t threads = 2) {
  Run out;
  const host::Stopwatch watch;
  host::ThreadExecutor executor(threads);
  const Context context(host::stop_after(seconds), {}, &executor);
  SolveOptions options;
  options.seed = seed;
  options.share_spent = [&] { return watch.seconds() / seconds; };
  options.on_better = [&](const Solution& solution) {
    if (out.first_ms > 0) return;
    out.first_ms = 1000 * watch.seconds();
    out.first_density = solution.density;
  };
  auto solution = solve(problem, options, context);
  if (solution) {
    out.valid = verify(problem, *solution).empty();
    out.solution = *std::move(solution);
  }
  return out;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t n = values.size();
  return n % 2 == 1 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
}

/// How far below the reference the mean over the instances may lie after so many seconds.
double allowed(double seconds) {
  if (seconds >= 600) return 0;
  if (seconds >= 60) return 0.5;
  return seconds >= 10 ? 3 : 7;
}

void strip_instances(double seconds, int seeds) {
  double below = 0;
  bool valid = true;
  for (const Instance& known : kInstances) {
    const Problem problem = instance(known.name);
    std::vector<double> densities;
    for (int seed = 1; seed <= seeds; ++seed) {
      const Run one = run(problem, seconds, static_cast<std::uint64_t>(seed));
      valid = valid && one.valid;
      densities.push_back(100 * one.solution.density);
    }
    const double middle = median(densities);
    below += (known.reference_pct - middle) / static_cast<double>(std::size(kInstances));
    bench::say(format("{} after {:g} s", known.name, seconds),
               format("{:.2f} % (best {:.2f})", middle,
                      *std::max_element(densities.begin(), densities.end())),
               format("reference {:.2f} %", known.reference_pct), kReference, std::nullopt);
  }
  judge(format("11 instances after {:g} s on 2 threads, median of {} seeds", seconds, seeds),
        format("{:.2f} points below the reference on average", below),
        format("at most {:g} below", allowed(seconds)), below <= allowed(seconds), kReference);
  judge(format("layouts after {:g} s pass the exact verifier", seconds), valid ? "all" : "not all",
        "all", valid);
}

/// A closed outline of so many corners that looks like a panel with a wavy edge.
Polygon wavy_piece(Rng& rng, double size, int corners) {
  Ring ring;
  const double tall = rng.uniform(0.4, 1.0);
  const double wave = rng.uniform(0.02, 0.1);
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * 3.14159265358979 * i / corners;
    const double radius = size * (1 + wave * std::cos(5 * angle));
    ring.push_back({radius * std::cos(angle), tall * radius * std::sin(angle)});
  }
  return {ring, {}};
}

Problem wavy_problem(int pieces, double gap) {
  Rng rng(11);
  Problem problem;
  problem.strip.width = 1524;
  problem.strip.gap = gap;
  for (int i = 0; i < pieces; ++i) {
    problem.items.push_back({std::to_string(i),
                             wavy_piece(rng, rng.uniform(40, 260), 100),
                             1,
                             {Angle{0}, Angle::from_degrees(180)},
                             ""});
  }
  return problem;
}

void first_layout() {
  const Run one = run(wavy_problem(100, 3), 3, 1);
  judge("first valid layout of 100 pieces with 100 corners", format("{:.0f} ms", one.first_ms),
        "200 ms", one.first_ms <= 200 && one.valid);
  bench::say("100 wavy pieces, gap 3 mm, first layout and after 3 s",
             format("{:.1f} % and {:.1f} %", 100 * one.first_density, 100 * one.solution.density),
             "", "bench/evidence_layout.cpp", std::nullopt);
}

void many_pieces() {
  Problem problem = wavy_problem(100, 3);
  for (Item& item : problem.items) item.quantity = 50;
  const host::Stopwatch watch;
  const Run one = run(problem, 1, 1);
  judge("5,000 pieces of 100 kinds are answered", format("{:.1f} s", watch.seconds()),
        "an answer or a clear error", one.valid);
}

void threads_pay() {
  const Problem problem = instance("swim");
  const auto rate = [&](std::size_t threads) {
    return static_cast<double>(run(problem, 4, 1, threads).solution.iterations);
  };
  const double one = rate(1);
  const double two = rate(2);
  judge("passes per second with two threads against one (swim)", format("{:.2f} times", two / one),
        "at least 1.7 times", two >= 1.7 * one);
}

/// Random small jobs with gaps, defects, holes and free turns: none may come out invalid.
void random_jobs(int count) {
  Rng rng(5);
  int invalid = 0;
  for (int i = 0; i < count; ++i) {
    Problem problem;
    problem.strip.width = rng.uniform(20, 60);
    problem.strip.gap = rng.below(2) == 0 ? 0 : rng.uniform(0.1, 2);
    if (rng.below(3) == 0) {
      const double x = rng.uniform(0, 30);
      const double y = rng.uniform(0, 15);
      problem.strip.defects = {{{{x, y}, {x + 3, y + 1}, {x + 1, y + 4}}, {}}};
    }
    const std::size_t kinds = 1 + rng.below(5);
    for (std::size_t k = 0; k < kinds; ++k) {
      Item item{std::to_string(k),
                wavy_piece(rng, rng.uniform(2, 9), 5 + static_cast<int>(rng.below(12))),
                1 + static_cast<int>(rng.below(4)),
                {},
                ""};
      if (rng.below(4) != 0) item.turns = {Angle{0}, Angle::from_degrees(180)};
      problem.items.push_back(std::move(item));
    }
    const auto solution = solve(problem, {.seed = rng.next(), .iteration_limit = 20}, {});
    if (!solution || !verify(problem, *solution).empty()) ++invalid;
  }
  judge(format("invalid layouts in {} random jobs with gaps and defects", count),
        std::to_string(invalid), "0 in 10,000", invalid == 0);
}

int main_of(const std::vector<std::string>& arguments) {
  std::vector<std::pair<double, int>> times;
  int seeds = 5;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    if (arguments[i] == "--seeds" && i + 1 < arguments.size()) {
      seeds = std::max(1, std::atoi(arguments[++i].c_str()));
    } else {
      times.emplace_back(std::atof(arguments[i].c_str()), 0);
    }
  }
  for (auto& [seconds, count] : times) count = seeds;
  if (times.empty()) times = {{1, 3}, {10, 3}, {60, 1}};
  first_layout();
  many_pieces();
  threads_pay();
  random_jobs(1000);
  for (const auto& [seconds, count] : times) strip_instances(seconds, count);
  return 0;
}

}  // namespace
}  // namespace film

int main(int argc, char** argv) {
  return film::main_of(std::vector<std::string>(argv + 1, argv + argc));
}
