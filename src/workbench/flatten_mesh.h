#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "geometry/trimesh.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/laying.h"
#include "surface/reach.h"
#include "surface/strain.h"
#include "surface/tension.h"

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
  /// Where fingers come; only of least-energy pieces, whose shape is made for the film.
  std::optional<surface::TensionField> tension;
  surface::Reach reach;
  surface::Laying laying;             ///< relief cuts and seams only in least-energy mode
  std::vector<std::string> warnings;  ///< what to look at before cutting, in words
};

/// The direction that usually runs along the roll, when nobody says: a surface that lies evenly on
/// both sides of one of the planes x = 0 and y = 0 straddles the vehicle's middle, and its grain
/// runs from front to back; any other has none and the long way of the piece is taken.
/// Basis: common practice, no source.
std::optional<Vec3> usual_grain(const TriMesh& surface);

/// Cleans, flattens and judges a surface (mm). Errors: those of the kernels.
Result<FlatPanel> flatten_mesh(const TriMesh& surface, const FlattenRequest& request,
                               const Context& context);

/// Reads a mesh file's bytes; the kind by the name's ending (obj, ply, stl, glb), the unit by its
/// word (m, mm, in). Errors: those of formats/mesh.h, naming the file.
Result<TriMesh> read_surface(std::string_view bytes, std::string_view file_name,
                             std::string_view unit);

/// The flattened mesh as OBJ in the unit it came in, with `vt` = flat position in mm. Repeats the
/// file's mesh vertex for vertex when nothing had to be mended.
Result<std::string> obj_with_flat(const FlatPanel& panel, std::string_view unit);

/// The bare flat piece (no allowances) in the form named by the file's ending: svg, dxf, or json
/// (docs/formats/piece.md). Errors: unsupported ending; those of pattern/from_surface.h.
Result<std::string> flat_piece(const FlatPanel& panel, std::string_view piece_id,
                               std::string_view file_name);

}  // namespace film::workbench
