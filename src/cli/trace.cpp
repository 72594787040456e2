#include "workbench/trace.h"

#include <cstdio>
#include <memory>
#include <string>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/book_folder.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "shop/names.h"

namespace film::cli {
namespace {

using nlohmann::ordered_json;

struct TraceArguments {
  std::string data;
  std::string lot;
  std::string job;
  bool json = false;
};

void say(const std::string& text) { std::fputs(text.c_str(), stdout); }

ordered_json json_of(const workbench::TracedPiece& each) {
  return {{"number", each.piece.number},     {"panel", each.piece.panel},
          {"panel_name", each.panel_name},   {"film", each.piece.film},
          {"lot", each.piece.lot},           {"source", each.piece.source},
          {"who", each.piece.who},           {"at", each.piece.at},
          {"replaces", each.piece.replaces}, {"reason", each.piece.reason},
          {"replaced_by", each.replaced_by}};
}

std::string line_of(const workbench::TracedPiece& each) {
  std::string line =
      format("  {:<8} {:<28} lot {:<14} {} {}", shop::number_text(each.piece), each.panel_name,
             each.piece.lot, each.piece.at.substr(0, 10), each.piece.who);
  if (!each.piece.reason.empty()) line += ", instead of P-" + std::to_string(each.piece.replaces);
  if (each.replaced_by != 0) line += ", came off for P-" + std::to_string(each.replaced_by);
  return line + "\n";
}

Result<void> trace_lot(workbench::Workbench& workbench, const TraceArguments& arguments) {
  ordered_json vehicles = ordered_json::array();
  std::int64_t after = 0;
  do {
    const auto trace = workbench::trace_lot(workbench, arguments.lot, after);
    if (!trace) return Failure(trace.error());
    for (const workbench::LotVehicle& vehicle : trace->vehicles) {
      ordered_json pieces = ordered_json::array();
      if (!arguments.json) {
        say(format("{}  {}  {}  {}\n", vehicle.job.id, vehicle.vehicle_name, vehicle.job.title,
                   vehicle.job.customer));
      }
      for (const workbench::TracedPiece& each : vehicle.pieces) {
        if (!arguments.json) say(line_of(each));
        pieces.push_back(json_of(each));
      }
      vehicles.push_back({{"job", vehicle.job.id},
                          {"vehicle", vehicle.vehicle_name},
                          {"customer", vehicle.job.customer},
                          {"pieces", std::move(pieces)}});
    }
    after = trace->next;
  } while (after != 0);
  if (arguments.json) {
    say(ordered_json{{"lot", arguments.lot}, {"vehicles", std::move(vehicles)}}.dump() + "\n");
  }
  return {};
}

Result<void> trace_job(workbench::Workbench& workbench, const TraceArguments& arguments) {
  const auto trace = workbench::trace_job(workbench, arguments.job);
  if (!trace) return Failure(trace.error());
  ordered_json pieces = ordered_json::array();
  if (!arguments.json) {
    say(format("{}  {}  {}  {}, {} claims\n", trace->job.id, trace->vehicle_name,
               trace->job.customer, shop::name_of(trace->job.state), trace->claims.size()));
  }
  for (const workbench::TracedPiece& each : trace->pieces) {
    if (!arguments.json) say(line_of(each));
    pieces.push_back(json_of(each));
  }
  if (arguments.json) {
    say(ordered_json{{"job", trace->job.id},
                     {"vehicle", trace->vehicle_name},
                     {"customer", trace->job.customer},
                     {"state", shop::name_of(trace->job.state)},
                     {"pieces", std::move(pieces)}}
            .dump() +
        "\n");
  }
  return {};
}

int run(const TraceArguments& arguments) {
  const auto workbench = workbench::open_workbench(book_folder(arguments.data, false));
  if (!workbench) return report(workbench.error());
  const auto done =
      arguments.lot.empty() ? trace_job(**workbench, arguments) : trace_lot(**workbench, arguments);
  return done ? kDone : report(done.error());
}

}  // namespace

void add_trace_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand(
      "trace", "Say where a lot of film went, or what is on a job's vehicle");
  const auto arguments = std::make_shared<TraceArguments>();
  command->add_option("--data", arguments->data,
                      "Folder of the shop's book (default: filmwright/shop in the user's data "
                      "folder)");
  CLI::Option* lot = command->add_option("--lot", arguments->lot, "Lot, as printed on the box");
  CLI::Option* job = command->add_option("--job", arguments->job, "Number of a job");
  lot->excludes(job);
  command->add_flag("--json", arguments->json, "Print one JSON object");
  command->footer("Example:\n  filmwright trace --lot \"44-A\"");
  command->callback([arguments, &code] {
    if (arguments->lot.empty() && arguments->job.empty()) {
      throw CLI::RequiredError("--lot or --job");
    }
    code = run(*arguments);
  });
}

}  // namespace film::cli
