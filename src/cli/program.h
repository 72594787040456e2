#pragma once

namespace CLI {
class App;
}

namespace film::cli {

/// What the program's exit code says; the manual page lists them.
enum ExitCode : int {
  kDone = 0,       ///< did what was asked; an answer of "no" is an answer
  kFailed = 1,     ///< the program itself went wrong: a defect
  kUsage = 2,      ///< the command line is not understood
  kBadInput = 3,   ///< an input was refused; nothing was written
  kNotFound = 4,   ///< a file or a record is not there
  kIo = 5,         ///< disk, device or network
  kCancelled = 6,  ///< stopped by the user
};

/// Runs `filmwright` with the given command line; returns the exit code.
int run_program(int argc, char** argv);

}  // namespace film::cli
