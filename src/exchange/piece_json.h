#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "pattern/piece.h"

namespace film::exchange {

/// A set of pieces as a JSON document (docs/formats/piece.md), indented, same bytes for same
/// pieces.
std::string write_pieces(const std::vector<pattern::Piece>& pieces);

/// Whether the bytes call themselves a piece document, well-formed or not in the rest.
bool holds_pieces(std::string_view bytes);

/// Reads a document with one piece or a set of them. Nothing is half-read: all pieces or an error.
/// Errors: invalid_input, naming `name`, piece and field; too_large (over 200 MB, 10 million
/// points or 10 000 pieces); unsupported (a later version of the form).
Result<std::vector<pattern::Piece>> read_pieces(std::string_view bytes,
                                                std::string_view name = "piece file");

}  // namespace film::exchange
