#pragma once

#include <cstddef>

namespace film::bench {

/// Live answers to edits by hand, and layouts mended after them.
void edits();

/// Random small jobs with gaps, defects, holes, free turns, offcuts, groups and frames: none may
/// come out invalid.
void random_jobs(std::size_t count);

}  // namespace film::bench
