#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/length.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/output.h"
#include "cli/program.h"
#include "exchange/layout_json.h"
#include "exchange/piece_json.h"
#include "host/files.h"
#include "host/stop.h"
#include "workbench/allot_film.h"
#include "workbench/lay_out.h"
#include "workbench/piece_layout.h"

namespace film::cli {
namespace {

struct LayoutArguments {
  std::string instance;
  std::string width = "60in";
  std::string gap = "5mm";
  std::string start;
  std::string out;
  std::string live;
  double seconds = 10;
  std::uint64_t seed = 1;
  std::uint64_t iterations = 0;
  std::size_t threads = 2;
  bool json = false;
};

Result<workbench::LayoutForm> form_of(const std::filesystem::path& path) {
  const std::string ending = path.extension().string();
  if (ending == ".json") return workbench::LayoutForm::json;
  if (ending == ".svg") return workbench::LayoutForm::svg;
  return fail(ErrorCode::unsupported, "no file form goes by this ending", path.string(),
              "Use .json or .svg");
}

/// What a file holds to be laid out. Pieces bring no roll: it comes from the command line.
struct Instance {
  layout::Problem problem;
  std::vector<pattern::Piece> pieces;  ///< empty when the file is an instance of its own
};

Result<Instance> read_instance(const LayoutArguments& arguments) {
  const auto bytes = host::read_file(arguments.instance);
  if (!bytes) return Failure(bytes.error());
  Instance instance;
  if (!exchange::holds_pieces(*bytes)) {
    auto problem = exchange::read_layout_problem(*bytes);
    if (!problem) return Failure(problem.error());
    instance.problem = *std::move(problem);
    return instance;
  }
  const auto width = parse_length(arguments.width);
  if (!width) return Failure(width.error());
  const auto gap = parse_length(arguments.gap);
  if (!gap) return Failure(gap.error());
  auto pieces = exchange::read_pieces(*bytes, arguments.instance);
  if (!pieces) return Failure(pieces.error());
  instance.pieces = *std::move(pieces);
  instance.problem.name = std::filesystem::path(arguments.instance).stem().string();
  instance.problem.units = "mm";
  instance.problem.strip.width = width->value;
  instance.problem.strip.gap = gap->value;
  instance.problem.items = workbench::items_of(instance.pieces);
  return instance;
}

/// The layout file's own fields, and how the search went.
void print_json(const workbench::LaidOut& laid) {
  auto json = nlohmann::ordered_json::parse(exchange::write_layout_sheet(laid.sheet));
  json["iterations"] = laid.iterations;
  json["first_valid_ms"] = laid.first_valid_ms;
  json["seconds"] = laid.seconds;
  std::fputs((json.dump() + "\n").c_str(), stdout);
}

void print_text(const workbench::LaidOut& laid) {
  const exchange::LayoutSheet& sheet = laid.sheet;
  std::fputs(format("{} pieces on {:.6g} x {:.8g} {}: {:.2f} % of the strip used\n",
                    sheet.pieces.size(), sheet.width, sheet.length, sheet.units, sheet.density_pct)
                 .c_str(),
             stdout);
  for (const std::string& line : sheet.unplaced) {
    std::fputs(format("not laid: {}\n", line).c_str(), stdout);
  }
}

Result<workbench::LaidOut> lay_out(const LayoutArguments& arguments) {
  std::optional<workbench::LayoutForm> form;
  if (!arguments.out.empty()) {
    const auto known = form_of(arguments.out);
    if (!known) return Failure(known.error());
    form = *known;
  }
  const auto instance = read_instance(arguments);
  if (!instance) return Failure(instance.error());
  workbench::LayOutRequest request;
  request.seconds = arguments.seconds;
  request.seed = arguments.seed;
  request.iteration_limit = arguments.iterations;
  request.threads = arguments.threads;
  if (!arguments.start.empty()) {
    const auto start = host::read_file(arguments.start);
    if (!start) return Failure(start.error());
    auto sheet = exchange::read_layout_sheet(*start);
    if (!sheet) return Failure(sheet.error());
    request.start = *std::move(sheet);
  }
  if (!arguments.live.empty()) {
    request.on_better = [&](const exchange::LayoutSheet& sheet) {
      // A picture that cannot be written must not end the search; the next one may succeed.
      static_cast<void>(
          host::write_file(arguments.live, workbench::file_of(sheet, workbench::LayoutForm::svg)));
    };
  }
  ProgressBar bar;
  host::watch_interrupts();
  auto laid = workbench::lay_out(instance->problem, request, bar.sink());
  if (!laid) return laid;
  if (!instance->pieces.empty()) workbench::carry_slits(instance->pieces, laid->sheet);
  if (!form) return laid;
  const auto written = host::write_file(arguments.out, workbench::file_of(laid->sheet, *form));
  if (!written) return Failure(written.error());
  return laid;
}

/// Pieces with rolls and offcuts to choose from. Returns the exit code.
int allot(const LayoutArguments& arguments, const std::string& bytes) {
  std::optional<workbench::LayoutForm> form;
  if (!arguments.out.empty()) {
    const auto known = form_of(arguments.out);
    if (!known) return report(known.error());
    form = *known;
  }
  const auto job = exchange::read_stock_job(bytes);
  if (!job) return report(job.error());
  ProgressBar bar;
  host::watch_interrupts();
  const auto allotment = workbench::allot_film(
      *job, {arguments.seconds, arguments.seed, arguments.iterations, arguments.threads},
      bar.sink());
  if (!allotment) return report(allotment.error());
  const std::string json = exchange::write_allotment(*job, *allotment);
  if (form) {
    const bool picture = *form == workbench::LayoutForm::svg;
    const auto written =
        host::write_file(arguments.out, picture ? workbench::picture_of(*job, *allotment) : json);
    if (!written) return report(written.error());
  }
  const std::string words = workbench::words_of(*job, *allotment);
  std::fputs(arguments.json ? json.c_str() : words.c_str(), stdout);
  return kDone;
}

}  // namespace

void add_layout_command(CLI::App& program, int& code) {
  CLI::App* command =
      program.add_subcommand("layout", "Lay pieces on a roll so that little film is used");
  const auto arguments = std::make_shared<LayoutArguments>();
  command
      ->add_option("instance", arguments->instance,
                   "Pieces; pieces and their strip; or pieces and the film at hand (JSON)")
      ->required();
  command->add_option("--width", arguments->width, "Of the roll, for a file of pieces")
      ->capture_default_str();
  command->add_option("--gap", arguments->gap, "Between pieces, for a file of pieces")
      ->capture_default_str();
  command->add_option("--seconds", arguments->seconds, "How long to search")
      ->check(CLI::Range(0.0, 1e6));
  command->add_option("--seed", arguments->seed, "Of the search");
  command->add_option("--iterations", arguments->iterations,
                      "Passes to make at most; the same number gives the same layout");
  command->add_option("--threads", arguments->threads, "How many may work at once")
      ->check(CLI::Range(1, 256));
  command->add_option("--start", arguments->start, "A layout (JSON) to begin from");
  command->add_option("--live", arguments->live, "A picture (SVG) rewritten as layouts get better");
  command->add_option("-o,--out", arguments->out, "Where to write: .json or .svg");
  command->add_flag("--json", arguments->json, "Print the result as JSON");
  command->footer(
      "Example: filmwright layout pieces.json --seconds 30 --seed 1 --threads 2 "
      "-o layout.json --json");
  command->callback([arguments, &code] {
    const auto bytes = host::read_file(arguments->instance);
    if (bytes && exchange::holds_stock(*bytes)) {
      code = allot(*arguments, *bytes);
      return;
    }
    const auto laid = lay_out(*arguments);
    if (!laid) {
      code = report(laid.error());
      return;
    }
    arguments->json ? print_json(*laid) : print_text(*laid);
    code = kDone;
  });
}

}  // namespace film::cli
