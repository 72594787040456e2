#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "geometry/polygon.h"
#include "layout/problem.h"

namespace film::layout {

/// One copy of an item on the strip.
struct PlacedPiece {
  std::size_t item = 0;  ///< index into Problem::items
  int copy = 0;          ///< 0 .. quantity - 1
  Placement placement;   ///< from the item's own frame to the strip

  friend bool operator==(const PlacedPiece&, const PlacedPiece&) = default;
};

/// A copy that could not be laid, and why.
struct Unplaced {
  std::size_t item = 0;
  int copy = 0;
  std::string reason;  ///< "wider than the strip: its least width is 1612.4, the strip offers 1500"

  friend bool operator==(const Unplaced&, const Unplaced&) = default;
};

/// A layout. Placements are ordered by item, then copy.
struct Solution {
  std::vector<PlacedPiece> placements;
  std::vector<Unplaced> unplaced;
  double length = 0;             ///< of strip used, margins included
  double density = 0;            ///< area of the placed pieces / (strip width x length), 0 to 1
  std::uint64_t iterations = 0;  ///< of the search that led here

  friend bool operator==(const Solution&, const Solution&) = default;
};

/// The piece where it lies. These are the coordinates that verify judges and that are written out.
Polygon outline_of(const Problem& problem, const PlacedPiece& piece);

/// Length of strip that the placements need, end margin included.
double length_of(const Problem& problem, const std::vector<PlacedPiece>& placements);

/// Area of the placements / (strip width x length); 0 for an empty layout.
double density_of(const Problem& problem, const std::vector<PlacedPiece>& placements,
                  double length);

}  // namespace film::layout
