#pragma once

#include "base/context.h"
#include "base/result.h"
#include "pattern/piece.h"

namespace film::pattern {

/// What a stretch of a kind gets unless the shop says otherwise (common practice, no source):
/// gap and hem a quarter inch to tuck, cut-outs cut at the edge, seals held back 1.5 mm, seams
/// laid 6 mm over the neighbour.
Mm default_allowance(EdgeKind kind);

/// Sets every stretch to its kind's default.
Piece with_default_allowances(Piece piece);

/// What decides where a tuck needs relief slits. A fold line that bends makes its tuck too long
/// (outward bend: it bunches) or too short (inward bend: it must open). Film gives a little either
/// way; what is left over is shared among slits.
struct ReliefOptions {
  bool wanted = true;
  double give = 0.10;   ///< share of its length by which the tuck's edge may bunch or open
  Mm room_per_slit{4};  ///< surplus or lack that one slit takes up (common practice)
  Mm stop{1};           ///< film left uncut between a slit or notch and the fold line
  Mm shortest{2};       ///< no slit shorter than this
};

struct ExtendOptions {
  Mm transition{20};       ///< length along a smooth edge over which one allowance becomes the next
  Angle corner{0.52};      ///< a bend of the fold sharper than this is a corner (0.52: 30 degrees)
  double mitre_limit = 2;  ///< a mitre longer than this many allowances is cut off square
  Corner within = Corner::round;  ///< treatment of corners inside a stretch
  Mm chord_tolerance{0.02};       ///< how far a chord may lie inside the arc it stands for
  ReliefOptions relief;
};

/// Makes `cut` and `slits` from `fold` and the allowances of `edges`; the fold line is kept as it
/// is. With every allowance 0 the cut is the fold. Where the film is extended, the fold lies in
/// the cut; where two allowances meet (a narrow bay, a small opening) they become one; where film
/// is held back, that wins over a neighbour's allowance. The cut never crosses or touches itself.
///
/// Shape: each fold edge with allowance d adds the strip within d outside it (d changes linearly
/// where one stretch fades into the next), each outward corner its corner treatment; held-back
/// edges take away the same on the inside. The union is formed exactly on a grid of 2^-24 mm.
/// Errors: invalid_input (broken edges; held back so far that nothing is left or the piece falls
/// apart, naming the place), cancelled. Cost: O((n + k) log n), k crossings of strips.
/// Method and measurements: docs/algorithms/allowance.md.
Result<Piece> extend(Piece piece, const ExtendOptions& options = {}, const Context& context = {});

/// How the tuck of one stretch will lie once it is folded.
struct Tuck {
  std::string edge;        ///< name of the stretch
  double length = 0;       ///< of its fold line, mm
  double surplus = 0;      ///< film too long by this where the fold bends outward, mm; it bunches
  double lack = 0;         ///< film too short by this where the fold bends inward, mm; it opens
  double worst_bunch = 0;  ///< greatest share by which the tuck's edge must shorten
  double worst_open = 0;   ///< greatest share by which the tuck's edge must lengthen
  std::size_t slits = 0;   ///< relief slits that the options ask for along it
};

/// One Tuck for each stretch with an outward allowance, in the order of `edges`. Bend and
/// allowance d: folded over, the tuck's edge at d outside a fold of curvature k comes to lie at d
/// inside it, so that length (1 + k d) has to become (1 - k d).
std::vector<Tuck> tucks(const Piece& piece, const ExtendOptions& options = {});

}  // namespace film::pattern
