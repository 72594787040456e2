#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "formats/drawn_loops.h"
#include "pattern/allowance.h"
#include "pattern/piece.h"

namespace film::workbench {

enum class DrawingForm { dxf, svg };

/// What came out of a drawing.
struct DrawnPieces {
  std::vector<pattern::Piece> pieces;  ///< one for each outline, its openings in it, divided edges
  std::vector<formats::LooseEnd> loose;
  std::vector<std::string> notes;
  double mm_per_unit = 1;
};

/// Pieces from the outlines of a drawing. A piece is called after its layer or group, numbered
/// where several share one; without a name, "piece 1" ...
/// Errors: those of the readers, each naming `name`; invalid_input when no line is closed, naming
/// the loose ends, or when outlines cross.
Result<DrawnPieces> draw_pieces(std::string_view bytes, DrawingForm form,
                                const formats::DrawingOptions& options, std::string_view name);

/// How edges are to be extended.
struct TuckRequest {
  std::optional<Mm> all;  ///< for every stretch; none: what the piece says
  /// Then for the stretches with this name, or of this kind ("hem", "seal", ...).
  std::vector<std::pair<std::string, Mm>> edges;
  std::optional<pattern::Corner> corner;  ///< treatment of every corner
  pattern::ExtendOptions options;
};

struct TuckedPieces {
  std::vector<pattern::Piece> pieces;
  std::vector<std::vector<pattern::Tuck>> tucks;  ///< for each piece, how its tucks will lie
};

/// Sets allowances and cuts the pieces anew. Errors: not_found (no piece has such an edge), those
/// of pattern::extend.
Result<TuckedPieces> tuck_pieces(std::vector<pattern::Piece> pieces, const TuckRequest& request,
                                 const Context& context = {});

struct ThinnedPieces {
  std::vector<pattern::Piece> pieces;  ///< extended again with their own allowances
  double worst_deviation = 0;          ///< mm
  std::size_t nodes_before = 0, nodes_after = 0;
};

/// Fewer nodes on the fold lines of all pieces. Errors: those of simplify and extend.
Result<ThinnedPieces> thin_pieces(std::span<const pattern::Piece> pieces, Mm tolerance,
                                  const Context& context = {});

/// Each piece followed by its twin; a piece whose twin is already there gets none.
std::vector<pattern::Piece> with_twins(std::span<const pattern::Piece> pieces);

/// The pieces with the one called `id` divided along a line (pattern/split.h), all extended anew.
/// Errors: not_found (no such piece), those of split and extend.
Result<std::vector<pattern::Piece>> split_piece(std::span<const pattern::Piece> pieces,
                                                const std::string& id, const Polyline& line,
                                                Mm overlap);

enum class PieceForm { json, svg, dxf };

/// Pieces as a file: JSON, or a drawing of true size with cut, fold, slits and names, the pieces
/// one above the other.
std::string piece_file(const std::vector<pattern::Piece>& pieces, PieceForm form);

}  // namespace film::workbench
