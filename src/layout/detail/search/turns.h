#pragma once

#include "layout/problem.h"

namespace film::layout::detail {

/// The problem with turns named for items of any angle: evenly spread ones, fewer the more items
/// there are (their pairs are what costs), and the narrowest one where nothing else fits.
Problem with_named_turns(Problem problem);

}  // namespace film::layout::detail
