#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "surface/detail/energy.h"
#include "surface/detail/hierarchy.h"
#include "surface/detail/rest_shape.h"

namespace film::surface::detail {

/// When Newton's method may end.
struct NewtonGoal {
  /// Ends when the expected gain of a step is below this share of the energy above its least.
  double tolerance = 1e-9;
  std::size_t greatest_steps = 200;
  /// The energy grows like an exponential: its logarithm is what Newton's method minimises, which
  /// only lengthens the step.
  bool exponential = false;
  /// For each vertex whether it stays where it is; empty: none does. Not with coarser levels.
  std::span<const char> held = {};
  /// If set, no step is taken to a shape that it refuses.
  std::function<bool(std::span<const Vec2>)> admissible = {};
};

struct NewtonOutcome {
  std::size_t steps = 0;
  bool converged = false;
};

/// Minimises sum over triangles of area times energy over the flat positions, from a start
/// without flips, never passing through a flip. The sparsity pattern, its ordering and symbolic
/// factorisation are made once and serve every call.
/// Source: Newton with the Hessian's positive part per triangle (J. Teran et al., "Robust
/// quasistatic finite elements and flesh simulation", SCA 2005), with the largest flip-free step
/// of J. Smith, S. Schaefer, "Bijective parameterization with free boundaries", ACM TOG 34(4),
/// 2015.
class Minimiser {
 public:
  /// With `coarser` levels of the same surface (hierarchy.h) steps are solved for by multigrid,
  /// which pays above some hundred thousand triangles; without, by factorisation. All outlive this.
  Minimiser(std::span<const Triangle> triangles, std::span<const RestShape> shapes,
            std::size_t vertex_count, std::span<const Coarsening> coarser = {});
  ~Minimiser();
  Minimiser(Minimiser&&) noexcept;
  Minimiser& operator=(Minimiser&&) noexcept;

  /// Moves `flat` to the minimum near it. Errors: cancelled.
  Result<NewtonOutcome> run(std::vector<Vec2>& flat, const Energy& energy, const NewtonGoal& goal,
                            const Context& context);

  [[nodiscard]] double total(std::span<const Vec2> flat, const Energy& energy) const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace film::surface::detail
