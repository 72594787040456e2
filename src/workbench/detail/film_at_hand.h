#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "layout/problem.h"
#include "store/book.h"
#include "workbench/detail/portions.h"

namespace film::workbench {

/// The plotters' margins as layouts take them.
layout::Margins layout_margins(store::Book& book);

/// All rolls and offcuts of the film that go into one of the plotters and have room for a piece,
/// offcuts first; may be empty.
std::vector<FilmSource> film_at_hand(store::Book& book, const std::string& film, double gap);

}  // namespace film::workbench
