#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "pattern/piece.h"
#include "surface/flatten.h"
#include "surface/laying.h"
#include "surface/reach.h"
#include "surface/strain.h"
#include "surface/tension.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// One panel under one film.
struct Study {
  std::string panel;
  std::string film;
  TriMesh surface;                 ///< cleaned
  surface::Flattening flattening;  ///< of `surface`
  std::vector<surface::TriangleStrain> strains;
  surface::StrainReport report;
  std::vector<surface::Finger> fingers;  ///< folds of film that will not lie down, longest first
  Mm roll_width;  ///< of the widest roll of the film, against which reach was judged
  surface::Reach reach;
  surface::Laying laying;
  pattern::Piece piece;            ///< extended, as it would be cut beforehand
  std::vector<std::string> notes;  ///< mends and cautions, for people
};

/// Lays the panel flat under the film and judges it. A right-hand panel whose surface is the exact
/// mirror of its twin gets the twin's study mirrored, so that both sides match. Computed once:
/// the flat shape is kept in the book under a hash of everything it depends on.
/// Errors: not_found (vehicle, panel, film), those of surface::clean and surface::flatten,
/// cancelled.
Result<std::shared_ptr<const Study>> study_panel(Workbench& workbench, const std::string& vehicle,
                                                 const std::string& panel, const std::string& film,
                                                 const Context& context);

}  // namespace film::workbench
