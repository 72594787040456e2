#pragma once

#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "pattern/piece.h"
#include "surface/method.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// What is cut for one panel of a job: the shaped piece, or a rectangle where a bulk sheet is
/// laid and trimmed by hand.
struct JobPiece {
  std::string panel;
  std::string film;
  surface::Method method;
  pattern::Piece piece;
};

/// A panel of which no piece could be made.
struct PieceFailure {
  std::string panel;
  Error error;
};

struct JobPieces {
  std::vector<JobPiece> pieces;  ///< by zone, then id
  std::vector<PieceFailure> failures;
};

/// Makes the pieces of a job, studying what is not known yet, panels in parallel over
/// context.executor(). One bad panel is told in `failures` and stops no other.
/// Errors: not_found (job), cancelled, io.
Result<JobPieces> make_pieces(Workbench& workbench, const std::string& job, const Context& context);

}  // namespace film::workbench
