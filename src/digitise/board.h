#pragma once

#include <array>
#include <vector>

#include "geometry/box.h"
#include "geometry/vec.h"

/// The printed marker board: loose sheets of paper, each with the same grid of markers, that are
/// laid round a template before it is photographed. Where the sheets lie is found from the photo.
///
/// Sheet frame: mm, origin in the middle of the page, x to the right and y up as the page is read.
namespace film::digitise {

inline constexpr int kColumns = 3;  ///< markers side by side on a sheet
inline constexpr int kRows = 4;
inline constexpr int kMarkersOnSheet = kColumns * kRows;
inline constexpr int kMostSheets = 48;      ///< as many as there are markers for
inline constexpr double kMarkerSide = 46;   ///< mm, edge to edge of the black square
inline constexpr double kMarkerPitch = 57;  ///< mm, middle to middle
inline constexpr int kCells = 8;            ///< cells along a marker's side, black border included
inline constexpr double kLongCheckLine = 240;   ///< mm, up the sheet, right of the markers
inline constexpr double kShortCheckLine = 170;  ///< mm, across the sheet, below the markers
inline constexpr Vec2 kLongCheckFrom{90, -120};
inline constexpr Vec2 kShortCheckFrom{-90, -124};

/// The marker's number; sheets count from 0, its markers by rows from the top left.
constexpr int marker_id(int sheet, int place) { return sheet * kMarkersOnSheet + place; }
constexpr int sheet_of(int marker) { return marker / kMarkersOnSheet; }

/// Middle of the marker on its sheet.
Vec2 marker_centre(int marker);
/// Its corners in order low left, low right, top right, top left.
std::array<Vec2, 4> marker_corners(int marker);

/// Which cells of a marker are black, rows from the top. Markers are those of the open family
/// 36h11 (E. Olson, "AprilTag: a robust and flexible visual fiducial system", ICRA 2011), whose
/// codes differ in 11 of 36 bits at least.
using MarkerCells = std::array<std::array<bool, kCells>, kCells>;
MarkerCells marker_cells(int marker);

/// The largest page in use (A4 is longer, Letter wider): what a sheet covers at most.
inline constexpr Box kPage{{-107.95, -148.5}, {107.95, 148.5}};

}  // namespace film::digitise
