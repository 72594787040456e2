#pragma once

#include "base/rng.h"
#include "demo/vehicle.h"
#include "geometry/trimesh.h"

namespace film::demo {

/// Makes a designed mesh look scanned: vertices shifted along the surface and off it, some edges
/// turned, triangles in no order. Vertex numbers and topology stay; no triangle folds over.
void roughen(TriMesh& mesh, const Scan& scan, Rng& rng);

}  // namespace film::demo
