#include "cli/program.h"

#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>

#include "cli/commands.h"

namespace film::cli {

int run_program(int argc, char** argv) {
  CLI::App program("Filmwright: from a vehicle's panels to cut film", "filmwright");
  program.require_subcommand(1);
  int code = kDone;
  add_version_command(program, code);
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
