#pragma once

#include "base/units.h"
#include "geometry/trimesh.h"

namespace film::surface {

/// Takes a scanner's noise off: the normals of the triangles are drawn towards those of neighbours
/// that look much the same way (so edges and creases stay), then the vertices follow the normals.
/// No vertex ends farther than `bound` from where it was; triangles keep their vertices. Requires
/// a clean mesh (surface/clean.h). O(n).
/// Sources: Y. Zheng, H. Fu, O. K.-C. Au, C.-L. Tai, "Bilateral normal filtering for mesh
/// denoising", IEEE TVCG 17(10), 2011; X. Sun, P. Rosin, R. Martin, F. Langbein, "Fast and
/// effective feature-preserving mesh denoising", IEEE TVCG 13(5), 2007 (how vertices follow).
/// Differences: the width of "much the same way" is taken from the mesh's own roughness; a weak
/// spring draws each vertex home, so that the surface as a whole does not drift.
TriMesh denoise(const TriMesh& mesh, Mm bound);

}  // namespace film::surface
