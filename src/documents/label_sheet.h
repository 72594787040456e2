#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "documents/stationery.h"

namespace film::documents {

/// What sticks to a piece on its way from the plotter to the vehicle.
struct PieceLabel {
  std::size_t number = 0;  ///< of its card
  std::string piece;       ///< id
  std::string name;
  std::string zone;
  std::string film;  ///< with its lot
};

struct LabelSheet {
  std::string job;
  std::string vehicle;
  std::string date;  ///< RFC 3339
  std::vector<PieceLabel> labels;
};

/// Labels of 63 x 38 mm, three abreast, each with a QR code of its record, as PDF. Same input, same
/// bytes. Errors: io, too_large (from the PDF writer).
Result<std::string> write_labels(const LabelSheet& sheet, const Stationery& stationery);

}  // namespace film::documents
