#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "documents/stationery.h"
#include "shop/inspection.h"

namespace film::documents {

struct InspectionPaper {
  std::string job;
  std::string title;
  std::string vehicle;
  std::string customer;
  std::string date;                            ///< RFC 3339
  std::optional<shop::Inspection> inspection;  ///< none: to be filled in by hand
};

/// The shop's checklist with what was found, or empty boxes, as PDF. Same input, same bytes.
/// Errors: io, too_large (from the PDF writer).
Result<std::string> write_inspection_sheet(const InspectionPaper& paper,
                                           const Stationery& stationery);

}  // namespace film::documents
