#pragma once

namespace CLI {
class App;
}

namespace film::cli {

/// Each adds one sub-command to the program and writes its exit code to `code` when it was run.
/// One source file each.
void add_version_command(CLI::App& program, int& code);

}  // namespace film::cli
