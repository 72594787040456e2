#pragma once

#include <optional>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>

#include "base/result.h"
#include "exchange/glass_json.h"

namespace film::cli {

// The parts of `filmwright glass`; each adds one of its commands.
void add_match(CLI::App& glass, int& code);
void add_film(CLI::App& glass, int& code);
void add_keep(CLI::App& glass, int& code);
void add_limits(CLI::App& glass, int& code);
void add_lamp(CLI::App& glass, int& code);

/// A layer of docs/formats/glass.md out of a file; its name is that of the file when the layer has
/// none. Errors: those of the reader, naming the file.
Result<glazing::Sheet> read_layer(const std::string& path);

}  // namespace film::cli
