#include "cli/program.h"

#include <array>
#include <cstdio>
#include <exception>

#include <CLI/CLI.hpp>

#include "cli/commands.h"

namespace film::cli {
namespace {

constexpr std::array<ExitMeaning, 7> kExitMeanings{{
    {kDone, "Did what was asked; an answer of no is an answer."},
    {kFailed, "The program itself went wrong: a defect."},
    {kUsage, "The command line was not understood."},
    {kBadInput, "An input was refused; nothing was written."},
    {kNotFound, "A file or a record is not there."},
    {kIo, "A disk, a device or the network failed."},
    {kCancelled, "Stopped by the user."},
}};

}  // namespace

std::span<const ExitMeaning> exit_meanings() { return kExitMeanings; }

int run_program(int argc, char** argv) {
  CLI::App program("From a vehicle's panels to cut film", "filmwright");
  program.set_version_flag("--version", "filmwright " FILM_VERSION);
  program.require_subcommand(1);
  int code = kDone;
  add_flatten_command(program, code);
  add_panel_command(program, code);
  add_piece_command(program, code);
  add_vehicle_command(program, code);
  add_layout_command(program, code);
  add_cut_command(program, code);
  add_spool_command(program, code);
  add_recut_command(program, code);
  add_price_command(program, code);
  add_quote_command(program, code);
  add_plan_command(program, code);
  add_trace_command(program, code);
  add_glass_command(program, code);
  add_demo_command(program, code);
  add_book_command(program, code);
  add_serve_command(program, code);
  add_manual_command(program, code);
  add_completion_command(program, code);
  try {
    program.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return program.exit(error) == 0 ? kDone : kUsage;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "filmwright: defect: %s\n", error.what());
    return kFailed;
  }
  return code;
}

}  // namespace film::cli
