#pragma once

#include <filesystem>
#include <string>

namespace film::cli {

/// Where the shop's book lies: the folder given, or the one in the user's data folder.
std::filesystem::path book_folder(const std::string& given, bool demo);

}  // namespace film::cli
