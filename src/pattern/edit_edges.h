#pragma once

#include <optional>
#include <span>
#include <string>

#include "base/result.h"
#include "pattern/piece.h"

namespace film::pattern {

/// One edit of a piece's edge. Only what is set is done, in the order of the fields.
struct EdgeEdit {
  std::string edge;               ///< name of the stretch meant
  std::optional<Vec2> divide_at;  ///< a new stretch starts on it, at its point nearest to this one
  bool join_next = false;         ///< the stretch after it becomes part of it
  std::optional<EdgeKind> kind;
  std::optional<Mm> allowance;
  std::optional<Corner> corner;     ///< treatment of the corner where it starts
  std::optional<std::string> name;  ///< a new one

  friend bool operator==(const EdgeEdit&, const EdgeEdit&) = default;
};

/// The piece with its stretches edited, one edit after the other. Dividing puts a node on the fold
/// line where there is none; the new stretch, the later one in the ring's direction, is named
/// after the old one with the next free number. `cut` and slits are as before: call `extend`.
/// Errors: not_found (no such stretch), invalid_input (divided at one of its ends; joined with
/// itself; a name that is taken or empty; an allowance that is not finite), naming piece and edge.
Result<Piece> edited(Piece piece, std::span<const EdgeEdit> edits);

}  // namespace film::pattern
