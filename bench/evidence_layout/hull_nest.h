#pragma once

#include <vector>

namespace film::bench {

/// A convex ring, counter-clockwise, as flat x, y pairs.
using FlatRing = std::vector<double>;

struct HullNest {
  double length = 0;   ///< of the strip used
  double seconds = 0;  ///< that it took
  bool all_placed = false;
};

/// Lays convex pieces on a strip of `width` with the packaged nesting library (libnest2d 5.0 as it
/// comes, all cores), each turned by one of `turns` (radians). The library fills plates: plates of
/// growing length are tried, and only the attempt that takes all pieces counts as its time.
HullNest nest_hulls(const std::vector<FlatRing>& hulls, const std::vector<double>& turns,
                    double width);

}  // namespace film::bench
