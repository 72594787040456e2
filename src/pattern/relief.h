#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "pattern/piece.h"

namespace film::pattern {

/// What decides where a tuck needs relief slits. A fold line that bends makes its tuck too long
/// (outward bend: it bunches) or too short (inward bend: it must open). Film gives a little either
/// way; what is left over is shared among slits. Between two slits stays a flap at least as long
/// as the allowance is wide. Defaults: common practice, no source.
struct ReliefOptions {
  bool wanted = true;
  double give = 0.10;   ///< share of its length by which the tuck's edge may bunch or open
  Mm room_per_slit{6};  ///< surplus or lack that one slit takes up
  Mm stop{1};           ///< film left uncut between a slit or notch and the fold line
  Mm shortest{2};       ///< no slit shorter than this
};

/// How the tuck of one stretch will lie once it is folded.
struct Tuck {
  std::string edge;        ///< name of the stretch
  double length = 0;       ///< of its fold line, mm
  double surplus = 0;      ///< film too long by this where the fold bends outward, mm; it bunches
  double lack = 0;         ///< film too short by this where the fold bends inward, mm; it opens
  double worst_bunch = 0;  ///< greatest share by which the tuck's edge must shorten
  double worst_open = 0;   ///< greatest share by which it must lengthen; infinite: it cannot
  std::size_t slits = 0;   ///< relief slits that the options ask for along it

  friend bool operator==(const Tuck&, const Tuck&) = default;
};

struct ExtendOptions;

/// One Tuck for each stretch with an outward allowance, in the order of `edges`, for a piece whose
/// edges pass check_edges. The tuck's edge lies at the allowance d outside the fold and comes to
/// lie at d inside it: along a bend of curvature k its length (1 + k d) has to become (1 - k d),
/// so a bend by the angle a leaves a surplus (outward) or lack (inward) of 2 d a. Curvature is
/// judged over the tuck's own width, twice over. Corners at the ends of the stretch are left out:
/// they have their own treatment. Cost: O(n w), w nodes in that width.
std::vector<Tuck> tucks(const Piece& piece, const ExtendOptions& options);

}  // namespace film::pattern
