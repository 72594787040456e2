#pragma once

#include "base/context.h"
#include "base/result.h"
#include "pattern/piece.h"
#include "pattern/relief.h"

namespace film::pattern {

/// What a stretch of a kind gets unless the shop says otherwise (common practice, no source):
/// gap and hem a quarter inch to tuck, cut-outs cut at the edge, seals held back 1.5 mm, seams
/// laid 6 mm over the neighbour.
Mm default_allowance(EdgeKind kind);

/// Sets every stretch to its kind's default.
Piece with_default_allowances(Piece piece);

/// How `extend` shapes allowances.
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

}  // namespace film::pattern
