#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "geometry/polygon.h"
#include "shop/roll.h"

namespace film::exchange {

// Parts of records of film in stock, docs/formats/book.md. Numbers read back to the same bits.
// Errors (invalid_input) name the place in the document.

/// `{"outline": [[x, y], ...], "holes": [...]}`, mm.
std::string write_outline(const Polygon& outline);
Result<Polygon> read_outline(std::string_view json);

/// `[{"from_core": ..., "length": ..., "low": ..., "high": ..., "note": ...}, ...]`, mm.
std::string write_defects(const std::vector<shop::RollDefect>& defects);
Result<std::vector<shop::RollDefect>> read_defects(std::string_view json);

}  // namespace film::exchange
