#pragma once

#include <filesystem>

namespace film::cli {

/// Where a program keeps its data. Source: XDG Base Directory Specification, XDG_DATA_HOME.
std::filesystem::path data_folder();

}  // namespace film::cli
