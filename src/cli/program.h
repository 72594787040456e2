#pragma once

#include <span>
#include <string_view>

namespace film::cli {

/// What the program's exit code says.
enum ExitCode : int {
  kDone = 0,
  kFailed = 1,
  kUsage = 2,
  kBadInput = 3,
  kNotFound = 4,
  kIo = 5,
  kCancelled = 6,
};

struct ExitMeaning {
  ExitCode code;
  std::string_view meaning;
};

/// Every exit code with its meaning, for the manual page and the help.
std::span<const ExitMeaning> exit_meanings();

/// Runs `filmwright` with the given command line; returns the exit code.
int run_program(int argc, char** argv);

}  // namespace film::cli
