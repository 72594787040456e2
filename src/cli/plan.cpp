#include <cstdint>
#include <cstdio>
#include <memory>
#include <optional>
#include <string>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "exchange/calendar_feed.h"
#include "host/files.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "workbench/plan_project.h"
#include "workbench/plan_shop.h"

namespace film::cli {
namespace {

struct Arguments {
  std::string instance;
  double seconds = 5;
  std::uint64_t seed = 1;
  std::int64_t iterations = 0;
  std::size_t threads = 2;
  double sure = 90;
  std::string calendar;
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

void print(const workbench::PlannedShop& made) {
  const planning::Shop& shop = made.file.shop;
  for (std::size_t j = 0; j < made.file.jobs.size(); ++j) {
    const planning::Job& job = made.file.jobs[j];
    const planning::Time end = made.outcome.answer.plan[j].end();
    std::printf("%s: ends %s, surely by %s%s\n", job.id.c_str(), planning::when(shop, end).c_str(),
                planning::when(shop, made.outcome.sure[j]).c_str(),
                end > job.promise ? ", AFTER ITS PROMISE" : "");
  }
  for (const std::string& note : made.outcome.answer.notes) std::printf("%s\n", note.c_str());
  if (made.outcome.shortage) std::printf("%s\n", made.outcome.shortage->reason.c_str());
  if (!made.outcome.rush) return;
  const planning::RushAnswer& rush = *made.outcome.rush;
  std::printf("%s with every other promise kept: planned %s, promise %s\n",
              made.file.urgent->id.c_str(),
              planning::when(shop, made.outcome.promise->planned).c_str(),
              planning::when(shop, made.outcome.promise->promise).c_str());
  std::printf("%s before all others: %s\n", made.file.urgent->id.c_str(),
              rush.urgent.reason.c_str());
  for (const planning::Slip& slip : rush.slips) {
    std::printf("  slips: %s, promised %s, then %s\n", made.file.jobs[slip.job].id.c_str(),
                planning::when(shop, slip.promised).c_str(),
                planning::when(shop, slip.after).c_str());
  }
  for (const planning::Remedy& remedy : rush.remedies) {
    std::printf("  helps: %s, leaves %zu slipping\n", remedy.text.c_str(), remedy.left.size());
  }
}

int run_shop(const std::string& bytes, const Arguments& arguments, const Context& context) {
  planning::PromiseOptions options;
  options.seed = arguments.seed;
  options.confidence = arguments.sure / 100;
  options.iterations = arguments.iterations > 0 ? arguments.iterations : 1000;
  auto made = workbench::plan_shop(bytes, options, context);
  if (!made) {
    Error error = made.error();
    error.where = arguments.instance + (error.where.empty() ? "" : " " + error.where);
    return report(error);
  }
  if (!arguments.calendar.empty()) {
    const auto events = exchange::events_of(made->file.shop, made->file.jobs,
                                            made->outcome.answer.plan, std::nullopt);
    const std::string feed = exchange::write_feed("Plan", events, made->file.shop.origin);
    if (auto written = host::write_file(arguments.calendar, feed); !written) {
      return report(written.error());
    }
  }
  if (arguments.json) {
    std::printf("%s", exchange::write_shop_outcome(made->file, made->outcome).c_str());
  } else {
    print(*made);
  }
  return kDone;
}

int run(const Arguments& arguments) {
  auto bytes = host::read_file(arguments.instance, std::size_t{1} << 26);
  if (!bytes) return report(bytes.error());
  host::watch_interrupts();
  host::ThreadExecutor executor(arguments.threads);
  ProgressBar bar;
  const Context context(host::stop_after(arguments.seconds), bar.sink(), &executor);
  const std::size_t first = bytes->find_first_not_of(" \t\r\n");
  if (first != std::string::npos && (*bytes)[first] == '{') {
    return run_shop(*bytes, arguments, context);
  }
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
  command
      ->add_option("instance", arguments->instance,
                   "a shop with its jobs (.json), or a project: PSPLIB .sm, ProGen/max .sch")
      ->required();
  command->add_option("--seconds", arguments->seconds, "time to search")->capture_default_str();
  command->add_option("--seed", arguments->seed, "same seed and rounds: same plan")
      ->capture_default_str();
  command
      ->add_option("--iterations", arguments->iterations,
                   "rounds of search at most; 0: no limit (1000 for a shop)")
      ->capture_default_str();
  command->add_option("--threads", arguments->threads, "threads to use; never changes the plan")
      ->check(CLI::Range(1, 256))
      ->capture_default_str();
  command->add_option("--sure", arguments->sure, "shop: chance of a promise in percent")
      ->check(CLI::Range(1.0, 99.0))
      ->capture_default_str();
  command->add_option("--calendar", arguments->calendar, "shop: write the plan as an .ics file");
  command->add_flag("--json", arguments->json, "print one JSON object");
  command->footer(
      "Examples:\n  filmwright plan shop.json --calendar plan.ics\n"
      "  filmwright plan j301_1.sm --seconds 5 --json");
  command->callback([arguments, &code] { code = run(*arguments); });
}

}  // namespace film::cli
