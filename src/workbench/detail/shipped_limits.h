#pragma once

#include <string_view>

namespace film::workbench {

/// data/limits/limits.json as it was when the program was built.
std::string_view shipped_limits();

}  // namespace film::workbench
