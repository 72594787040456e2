#include "cli/self_description.h"

#include <algorithm>
#include <string_view>
#include <vector>

#include <CLI/CLI.hpp>

#include "base/text.h"
#include "cli/program.h"

namespace film::cli {
namespace {

std::vector<const CLI::App*> commands_of(const CLI::App& program) {
  return program.get_subcommands([](const CLI::App*) { return true; });
}

std::vector<const CLI::Option*> options_of(const CLI::App& command) {
  return command.get_options([](const CLI::Option*) { return true; });
}

/// Backslashes, and a dot or quote that starts a line, mean something to roff.
std::string roff(std::string_view text) {
  std::string out;
  bool line_start = true;
  for (const char c : text) {
    if (line_start && (c == '.' || c == '\'')) out += "\\&";
    if (c == '\\') {
      out += "\\e";
    } else if (c == '-') {
      out += "\\-";
    } else {
      out += c;
    }
    line_start = c == '\n';
  }
  return out;
}

std::string option_section(const CLI::App& command) {
  std::string out;
  for (const CLI::Option* option : options_of(command)) {
    out +=
        format(".TP\n\\fB{}\\fR {}\n{}\n", roff(option->get_name(option->get_positional(), true)),
               roff(option->get_type_name()), roff(option->get_description()));
  }
  return out;
}

std::string command_section(const CLI::App& command) {
  std::string out =
      format(".SS {}\n{}\n", roff(command.get_name()), roff(command.get_description()));
  out += option_section(command);
  if (!command.get_footer().empty())
    out += format(".PP\n.nf\n{}\n.fi\n", roff(command.get_footer()));
  return out;
}

std::string words_of(const CLI::App& command) {
  std::string words;
  for (const CLI::Option* option : options_of(command)) {
    for (const std::string& name : option->get_lnames()) words += " --" + name;
  }
  return words;
}

std::string bash_script(const CLI::App& program) {
  std::string names;
  std::string cases;
  for (const CLI::App* command : commands_of(program)) {
    names += " " + command->get_name();
    cases += format("    {}) words=\"{}\" ;;\n", command->get_name(), words_of(*command));
  }
  return format(
      "_filmwright() {{\n"
      "  local here=${{COMP_WORDS[COMP_CWORD]}} words=\"\"\n"
      "  case ${{COMP_WORDS[1]}} in\n{}  esac\n"
      "  [ \"$COMP_CWORD\" -eq 1 ] && words=\"{}\"\n"
      "  case $here in\n"
      "    -*) COMPREPLY=($(compgen -W \"$words\" -- \"$here\")) ;;\n"
      "    *) COMPREPLY=($(compgen -W \"$words\" -f -- \"$here\")) ;;\n"
      "  esac\n"
      "}}\n"
      "complete -o filenames -F _filmwright filmwright\n",
      cases, names);
}

/// Zsh reads bash completions through its own compatibility layer.
std::string zsh_script(const CLI::App& program) {
  return "#compdef filmwright\nautoload -U +X bashcompinit && bashcompinit\n" +
         bash_script(program);
}

std::string fish_quoted(std::string text) {
  text = text.substr(0, text.find('\n'));
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c;
  }
  return out + "'";
}

std::string fish_script(const CLI::App& program) {
  std::string out;
  for (const CLI::App* command : commands_of(program)) {
    out += format("complete -c filmwright -n __fish_use_subcommand -a {} -d {}\n",
                  command->get_name(), fish_quoted(command->get_description()));
    for (const CLI::Option* option : options_of(*command)) {
      for (const std::string& name : option->get_lnames()) {
        out += format("complete -c filmwright -n '__fish_seen_subcommand_from {}' -l {} -d {}\n",
                      command->get_name(), name, fish_quoted(option->get_description()));
      }
    }
  }
  return out;
}

}  // namespace

std::string manual_page(const CLI::App& program) {
  std::string out = format(
      ".TH FILMWRIGHT 1\n.SH NAME\nfilmwright \\- {}\n.SH SYNOPSIS\n.B filmwright\n"
      "\\fICOMMAND\\fR [\\fIOPTION\\fR...]\n.SH COMMANDS\n",
      roff(program.get_description()));
  for (const CLI::App* command : commands_of(program)) out += command_section(*command);
  out += ".SH EXIT STATUS\n";
  for (const ExitMeaning& exit : exit_meanings()) {
    out += format(".TP\n{}\n{}\n", static_cast<int>(exit.code), roff(exit.meaning));
  }
  return out;
}

std::string completion_script(const CLI::App& program, Shell shell) {
  switch (shell) {
    case Shell::bash: return bash_script(program);
    case Shell::zsh: return zsh_script(program);
    case Shell::fish: return fish_script(program);
  }
  return {};
}

}  // namespace film::cli
