#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "surface/detail/cut.h"
#include "surface/detail/energy.h"

namespace film::surface::detail {

struct Resettled {
  std::vector<Vec2> flat;  ///< of the cut surface; no flips, though the lips may overlap
  double energy = 0;       ///< above its least, times mm^2
  std::size_t steps = 0;   ///< Newton steps on the whole surface
};

/// Where the film comes to rest once the surface is cut, from its rest before the cut.
///
/// Both lips start where the film lies, so no triangle is flipped. The wings beside a long cut turn
/// by several degrees: a coarse mesh of the same cut finds that turn, its energy tilted so that
/// the film at rest on the fine mesh is at rest on the coarse one too (S. Nash, "A multigrid
/// approach to discretized optimization problems", Optim. Methods Softw. 14, 2000). A few Newton
/// steps on the whole surface follow, solved by multigrid over the same coarse meshes.
/// Ends when the next step would gain less than `tolerance` of the energy, or after
/// `greatest_steps`.
/// Errors: cancelled. Cost: O(n); 20,000 triangles some 40 ms on two threads, which share what
/// does not wait for each other; the answer is the same on one.
Result<Resettled> resettle(const CutSurface& cut, std::span<const Vec2> before,
                           const Energy& energy, double tolerance, std::size_t greatest_steps,
                           const Context& context);

}  // namespace film::surface::detail
