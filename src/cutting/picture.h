#pragma once

#include "cutting/plan.h"
#include "formats/drawing.h"

namespace film::cutting {

/// The knife's way as a picture: film, travel (dashed), alignment and overcut, lines cut, an arrow
/// where each contour begins and its number in the order.
formats::Drawing picture_of(const CutPlan& plan);

/// What was drawn without the overcut: a ring, or an open line as it is.
Polyline bare_line(const Contour& contour);

/// The bare contours at their true size, a layer for each kind ("outline", "hole", "slit", "aid"),
/// for other programs. Without overcuts and compensation.
formats::Drawing contours_of(const CutPlan& plan);

}  // namespace film::cutting
