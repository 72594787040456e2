#pragma once

#include <string>
#include <vector>

#include <nlohmann/json_fwd.hpp>

#include "base/result.h"
#include "base/units.h"
#include "workbench/shape_pieces.h"

namespace CLI {
class App;
}

namespace film::cli {

/// What every verb that works on piece files is told.
struct PieceFiles {
  std::string in;
  std::string out;
  bool json = false;
};

/// Adds the options of `files` to a verb.
void add_piece_files(CLI::App& command, PieceFiles& files);

/// The ending of a path in small letters: ".dxf".
std::string ending_of(const std::string& path);

Result<std::vector<pattern::Piece>> read_pieces(const std::string& path);
/// Writes JSON, SVG or DXF by the path's ending; nothing for an empty path.
Result<void> write_pieces(const std::vector<pattern::Piece>& pieces, const std::string& path);

/// Prints the pieces; `more` are further fields or, as text, a closing line.
void tell_pieces(const PieceFiles& files, const std::vector<pattern::Piece>& pieces,
                 nlohmann::ordered_json more, const std::string& closing);

/// Reads a length such as "6mm" or "0.25in"; a bare number is mm.
Result<Mm> length_of(const std::string& text);

/// Points given as X Y X Y ... Errors: invalid_input, naming `option`, when fewer than `least` or
/// half a point.
Result<std::vector<Vec2>> points_of(const std::vector<double>& numbers, std::size_t least,
                                    const std::string& option);

}  // namespace film::cli
