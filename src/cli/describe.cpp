#include <cstdio>
#include <map>
#include <memory>

#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/program.h"
#include "cli/self_description.h"

namespace film::cli {

void add_manual_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand("manual", "Print the manual page (roff)");
  command->footer("Example: filmwright manual | man -l -");
  command->callback([&program, &code] {
    std::fputs(manual_page(program).c_str(), stdout);
    code = kDone;
  });
}

void add_completion_command(CLI::App& program, int& code) {
  CLI::App* command = program.add_subcommand("completion", "Print a shell completion script");
  const auto shell = std::make_shared<Shell>(Shell::bash);
  const std::map<std::string, Shell> names{
      {"bash", Shell::bash}, {"zsh", Shell::zsh}, {"fish", Shell::fish}};
  command->add_option("shell", *shell, "The shell")
      ->required()
      ->transform(CLI::CheckedTransformer(names).description("bash, zsh or fish"));
  command->footer("Example: source <(filmwright completion bash)");
  command->callback([&program, &code, shell] {
    std::fputs(completion_script(program, *shell).c_str(), stdout);
    code = kDone;
  });
}

}  // namespace film::cli
