#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "geometry/polygon.h"
#include "shop/settings.h"

namespace film::documents {

enum class Paper { a4, letter };

/// One panel as the installer needs it.
struct PanelCard {
  std::string piece;  ///< id of its record
  std::string title;  ///< "Hood"
  std::string zone;
  std::string film;                  ///< "Clear gloss, lot 44-A"
  bool bulk = false;                 ///< laid as a bulk sheet
  std::string method;                ///< "Pre-cut piece", "Bulk sheet 1620 x 1100 mm"
  std::vector<std::string> reasons;  ///< why this method, with numbers; how to lay it
  std::string stretch;               ///< what film will do here, in words
  std::vector<std::string> cautions;
  Polygon fold;                 ///< flat, mm
  Polygon cut;                  ///< flat, mm
  std::vector<Polyline> slits;  ///< flat, mm
};

/// One piece as it lies on a roll; `number` is that of its card, from 1.
struct MapPiece {
  std::size_t number = 0;
  Polygon outline;  ///< roll frame, mm
};

/// A roll with what is cut from it.
struct CutMap {
  std::string film;
  std::string roll;
  Mm width{0};
  Mm length{0};      ///< used
  double waste = 0;  ///< share of the used film that is not pieces
  std::vector<MapPiece> pieces;
};

struct WorkOrder {
  std::string shop;
  std::string job;  ///< its number
  std::string title;
  std::string vehicle;
  std::string customer;  ///< may be empty
  std::string date;      ///< RFC 3339: printed by day, and the document's own date
  std::string address;   ///< where the record is found, for the QR code; may be empty
  std::vector<std::string> cautions;
  std::vector<CutMap> maps;
  std::vector<PanelCard> cards;
};

struct WorkOrderOptions {
  Paper paper = Paper::a4;
  shop::LengthUnit unit = shop::LengthUnit::mm;
};

/// The work order as PDF: a front page with totals and cautions, the cut map of each roll, then
/// three panel cards a page. Same input, same bytes.
/// Errors: io, too_large (from the PDF writer).
Result<std::string> write_work_order(const WorkOrder& order, const WorkOrderOptions& options);

/// A length as people read it: "1524 mm", from 10 m on "15.24 m", or "60.0 in".
std::string length_text(Mm length, shop::LengthUnit unit);

}  // namespace film::documents
