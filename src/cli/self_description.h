#pragma once

#include <string>

namespace CLI {
class App;
}

namespace film::cli {

/// The manual page of the whole program in roff (man 7), made from the commands' own help.
std::string manual_page(const CLI::App& program);

enum class Shell { bash, zsh, fish };

/// A completion script for the shell, made from the commands' own options.
std::string completion_script(const CLI::App& program, Shell shell);

}  // namespace film::cli
