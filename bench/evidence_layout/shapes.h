#pragma once

#include <string>

#include "base/rng.h"
#include "layout/problem.h"

namespace film::bench {

/// A public instance of ../shared/data/nesting; ends the program with words when it is not there.
layout::Problem instance(const std::string& name);

/// A closed outline of so many corners that looks like a panel with a wavy edge.
Polygon wavy_piece(Rng& rng, double size, int corners);

/// So many wavy pieces of a hundred corners, half turns allowed, on a strip of 1524.
layout::Problem wavy_problem(int pieces, double gap);

}  // namespace film::bench
