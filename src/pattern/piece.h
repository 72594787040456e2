#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "geometry/polygon.h"

namespace film::pattern {

/// What the panel does where a stretch of a piece's edge lies; decides the default allowance.
enum class EdgeKind {
  gap,     ///< a panel gap: film tucks round the edge into the gap
  hem,     ///< a folded flange or lip: film wraps round it
  cutout,  ///< an opening in the panel (handle, lamp, badge): film is cut at it or tucked in
  seal,    ///< a rubber seal or trim: film is held back from it
  seam,    ///< where this piece meets another on the same panel
};

/// How the allowance is shaped at the corner where a stretch starts.
enum class Corner {
  closed,  ///< mitred: the allowances meet in a point
  round,   ///< an arc about the corner of the fold line
  notch,   ///< a wedge taken out so that two tucks lie side by side
  slit,    ///< closed, with one relief slit from the point towards the corner of the fold line
};

/// A named stretch of a ring's fold line, from one vertex to the start of the next stretch.
struct EdgeStretch {
  std::string name;  ///< unique within the piece: "front", "handle"
  EdgeKind kind = EdgeKind::gap;
  std::size_t ring = 0;   ///< 0 is the outer ring, k is hole k - 1
  std::size_t first = 0;  ///< index of its first vertex in that ring of the fold
  Mm allowance{0};        ///< outward to tuck > 0, cut at the edge 0, held back < 0
  Corner corner = Corner::round;

  friend bool operator==(const EdgeStretch&, const EdgeStretch&) = default;
};

/// In which turns a piece may lie on the roll (the roll runs along +x).
enum class Grain {
  along,   ///< piece +x along the roll, either way round (0 or 180 degrees)
  square,  ///< any quarter turn
  free,    ///< any angle
};

/// Writing on a piece: drawn by the plotter's pen or printed on its sticker, never mirrored.
struct Label {
  std::string text;
  Vec2 at;     ///< middle of the text, inside the piece
  Angle turn;  ///< direction in which the text reads

  friend bool operator==(const Label&, const Label&) = default;
};

/// What one side of the vehicle has and the other has not: a fuel door, an aerial, a badge.
struct Asymmetry {
  enum class Effect {
    removes,  ///< there is no film in the area
    adds,     ///< film fills the area, such as an opening that only the other side has
  };

  std::string name;  ///< also of the edge stretch it makes
  Effect effect = Effect::removes;
  Ring outline;  ///< of the area, counter-clockwise, in the frame of the piece it is laid over
  EdgeKind kind = EdgeKind::cutout;
  Mm allowance{0};  ///< of the new edge

  friend bool operator==(const Asymmetry&, const Asymmetry&) = default;
};

/// One flat shape of film. Piece frame: mm, face up, +x along the grain.
struct Piece {
  std::string id;                  ///< stable within a vehicle: "hood", "door_front_left"
  std::string name;                ///< for people
  std::string zone;                ///< "front", "left", ...
  Polygon fold;                    ///< the panel's own edge, where the film folds
  Polygon cut;                     ///< what the knife cuts: the fold moved by the allowances
  std::vector<EdgeStretch> edges;  ///< by ring, then by `first`; each ring has at least one
  std::vector<Polyline> slits;     ///< relief slits, from the cut edge inwards
  Grain grain = Grain::along;
  std::string twin_of;   ///< id of the piece it mirrors, or empty
  bool follows = false;  ///< a twin that is made anew whenever the piece it mirrors changes
  std::vector<Asymmetry> asymmetries;  ///< laid over a twin that follows
  std::string part_of;                 ///< id of the piece it was divided from, or empty
  std::size_t laid = 0;                ///< order of laying among the parts of that piece: 1 first
  std::vector<Label> labels;

  friend bool operator==(const Piece&, const Piece&) = default;
};

/// Ring 0 is the outer ring of the polygon, ring k its hole k - 1, as in EdgeStretch::ring.
const Ring& ring_of(const Polygon& polygon, std::size_t ring);

/// Checks what every maker of pieces promises: stretches sorted by ring and `first`, at least one
/// on every ring of the fold, indices in range, names unique and not empty, allowances finite.
/// Errors: invalid_input, naming piece and stretch.
Result<void> check_edges(const Piece& piece);

}  // namespace film::pattern
