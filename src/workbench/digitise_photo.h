#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "digitise/digitise.h"
#include "documents/marker_board.h"
#include "pattern/piece.h"

namespace film::workbench {

/// Pieces traced from a photo, each with its own accuracy and its lines as they lie in the photo.
struct PhotoPieces {
  int width = 0, height = 0;           ///< of the photo, px, upright
  std::vector<pattern::Piece> pieces;  ///< as `traced.outlines`
  digitise::Digitised traced;
};

/// Reads a photo of templates among the sheets of a marker board and makes pieces of them, called
/// "`name`", "`name` 2", ...; edges are divided, allowances are those of their kinds. The grain
/// runs as the lowest-numbered sheet reads. Errors: those of formats::read_photo and
/// digitise::digitise, naming `file`.
Result<PhotoPieces> digitise_photo(std::string_view bytes, const digitise::Options& options,
                                   const std::string& name, const std::string& file,
                                   const Context& context = {});

/// The sheets to print. Errors: those of documents::write_marker_board.
Result<std::string> marker_board(const documents::MarkerBoardOptions& options);

/// An SVG picture of the photo, kept beside it under the name `photo_file`, with the traced lines
/// over it.
std::string traced_over_photo(const PhotoPieces& pieces, const std::string& photo_file);

}  // namespace film::workbench
