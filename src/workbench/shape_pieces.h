#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "formats/drawing.h"
#include "formats/drawn_loops.h"
#include "pattern/allowance.h"
#include "pattern/edit_edges.h"
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

// In all of the following, twins that follow a piece of the same set are not worked on themselves:
// they are made anew from what their original has become (pattern/twin.h).

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

/// The pieces with the one called `id` divided along a line (pattern/split.h), the parts extended
/// anew; a twin that follows it is divided in the same way, and parts of the same piece that are
/// laid after it move up one place.
/// Errors: not_found (no such piece), invalid_input (it is a twin that follows), those of split
/// and extend.
Result<std::vector<pattern::Piece>> split_piece(std::span<const pattern::Piece> pieces,
                                                const std::string& id, const Polyline& line,
                                                Mm overlap);

/// The line on which `split_piece` would divide so that both parts fit film of that usable width.
/// Errors: not_found (no such piece), those of pattern::proposed_line.
Result<Polyline> proposed_split(std::span<const pattern::Piece> pieces, const std::string& id,
                                Mm widest);

/// The pieces with the stretches of one edited and that piece cut anew.
/// Errors: not_found (no such piece), invalid_input (it is a twin that follows; edit its original
/// or detach it), those of pattern::edited and extend.
Result<std::vector<pattern::Piece>> edit_edges(std::span<const pattern::Piece> pieces,
                                               const std::string& id,
                                               std::span<const pattern::EdgeEdit> edits,
                                               const pattern::ExtendOptions& options = {});

/// The pieces with an asymmetry laid over one twin, in place of the one of the same name.
/// Errors: not_found (no such piece), invalid_input (it is no twin that follows a piece of the
/// set), those of pattern::followed.
Result<std::vector<pattern::Piece>> lay_asymmetry_over(std::span<const pattern::Piece> pieces,
                                                       const std::string& id,
                                                       pattern::Asymmetry asymmetry);

/// The pieces with one twin detached, or with one of its asymmetries taken away.
/// Errors: not_found (no such piece or asymmetry), invalid_input (it is no twin that follows).
Result<std::vector<pattern::Piece>> detach_twin(std::span<const pattern::Piece> pieces,
                                                const std::string& id);
Result<std::vector<pattern::Piece>> take_asymmetry_off(std::span<const pattern::Piece> pieces,
                                                       const std::string& id,
                                                       const std::string& name);

struct SmoothedPieces {
  formats::Drawing drawing;    ///< as of piece_file, the closed lines as curves
  double worst_deviation = 0;  ///< mm
  std::size_t points = 0;      ///< of the outlines
  std::size_t curves = 0;      ///< that stand for them
};

/// The pieces drawn with curves that keep within `tolerance` of their outlines (fit_curves).
/// Errors: invalid_input (tolerance not positive).
Result<SmoothedPieces> smooth_pieces(std::span<const pattern::Piece> pieces, Mm tolerance);

enum class PieceForm { json, svg, dxf };

/// Pieces as a file: JSON, or a drawing of true size with cut, fold, slits and names, the pieces
/// one above the other.
std::string piece_file(const std::vector<pattern::Piece>& pieces, PieceForm form);

/// A drawing as SVG or DXF; as JSON there is none. Errors: unsupported.
Result<std::string> drawing_file(const formats::Drawing& drawing, PieceForm form);

}  // namespace film::workbench
