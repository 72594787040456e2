#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/method.h"
#include "surface/reach.h"
#include "surface/strain.h"

namespace film::workbench {

/// Everything asked about one surface.
struct FlattenRequest {
  surface::CleanOptions clean;
  surface::FlattenOptions flatten;  ///< grain unset: `usual_grain` of the surface
  surface::ReachOptions reach;
};

struct FlatPanel {
  surface::CleanMesh clean;
  surface::Flattening flattening;
  surface::StrainReport strain;
  surface::Reach reach;
  surface::Method method;
};

/// The direction that usually runs along the roll, when nobody says: a surface that lies evenly on
/// both sides of one of the planes x = 0 and y = 0 straddles the vehicle's middle, and its grain
/// runs from front to back; any other has none and the long way of the piece is taken.
/// Basis: common practice, no source.
std::optional<Vec3> usual_grain(const TriMesh& surface);

/// Cleans, flattens and judges a surface (mm). Errors: those of the kernels.
Result<FlatPanel> flatten_mesh(const TriMesh& surface, const FlattenRequest& request,
                               const Context& context);

}  // namespace film::workbench
