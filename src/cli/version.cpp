#include <CLI/CLI.hpp>
#include <cstdio>

#include "cli/commands.h"
#include "cli/program.h"

namespace film::cli {

void add_version_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand("version", "Print the version");
  command->callback([&code] {
    std::puts("filmwright 0.1.0");
    code = kDone;
  });
}

}  // namespace film::cli
