#include <cstdint>
#include <cstdio>
#include <memory>
#include <string>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "host/files.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "workbench/plan_project.h"

namespace film::cli {
namespace {

struct Arguments {
  std::string instance;
  double seconds = 5;
  std::uint64_t seed = 1;
  std::int64_t iterations = 0;
  std::size_t threads = 2;
  bool json = false;
};

void print(const planning::Plan& plan, bool json) {
  const std::string status(planning::name_of(plan.status));
  if (json) {
    nlohmann::ordered_json out;
    out["status"] = status;
    out["makespan"] = plan.exists() ? nlohmann::ordered_json(plan.makespan) : nullptr;
    out["lower_bound"] = plan.lower_bound;
    out["starts"] = plan.starts;
    out["reason"] = plan.reason;
    out["culprits"] = plan.culprits;
    out["iterations"] = plan.iterations;
    std::printf("%s\n", out.dump().c_str());
    return;
  }
  std::printf("%s", status.c_str());
  if (plan.exists()) std::printf(": ends at %d", plan.makespan);
  std::printf("\n%s\n", plan.reason.c_str());
  for (std::size_t i = 0; i < plan.starts.size(); ++i) {
    std::printf("%zu\t%d\n", i, plan.starts[i]);
  }
}

int run(const Arguments& arguments) {
  auto bytes = host::read_file(arguments.instance, std::size_t{1} << 26);
  if (!bytes) return report(bytes.error());
  host::watch_interrupts();
  host::ThreadExecutor executor(arguments.threads);
  ProgressBar bar;
  const Context context(host::stop_after(arguments.seconds), bar.sink(), &executor);
  planning::Options options;
  options.seed = arguments.seed;
  if (arguments.iterations > 0) options.iterations = arguments.iterations;
  auto plan = workbench::plan_project(*bytes, options, context);
  if (!plan) {
    Error error = plan.error();
    error.where = arguments.instance + (error.where.empty() ? "" : " " + error.where);
    return report(error);
  }
  print(*plan, arguments.json);
  return kDone;
}

}  // namespace

void add_plan_command(CLI::App& program, int& code) {
  auto arguments = std::make_shared<Arguments>();
  CLI::App* command = program.add_subcommand(
      "plan", "Plan tasks that share resources, or prove that no plan exists");
  command->add_option("instance", arguments->instance, "project: PSPLIB .sm or ProGen/max .sch")
      ->required();
  command->add_option("--seconds", arguments->seconds, "time to search")->capture_default_str();
  command->add_option("--seed", arguments->seed, "same seed and rounds: same plan")
      ->capture_default_str();
  command
      ->add_option("--iterations", arguments->iterations, "rounds of search at most; 0: no limit")
      ->capture_default_str();
  command->add_option("--threads", arguments->threads, "threads to use; never changes the plan")
      ->check(CLI::Range(1, 256))
      ->capture_default_str();
  command->add_flag("--json", arguments->json, "print one JSON object");
  command->footer("Example:\n  filmwright plan j301_1.sm --seconds 5 --json");
  command->callback([arguments, &code] { code = run(*arguments); });
}

}  // namespace film::cli
