#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "documents/stationery.h"
#include "geometry/polygon.h"

namespace film::documents {

/// A pull of the film's edge, as an arrow on the flat film.
struct CardPull {
  Vec2 from;              ///< mm
  Vec2 to;                ///< mm
  double amount = 0;      ///< mm; negative: film left over, to work out
  double stretch = 1;     ///< mean on the way
  double draws_back = 0;  ///< mm, when released with hot water
  Vec3 direction;         ///< on the vehicle: x forward, y left, z up
};

/// One panel as the installer needs it.
struct PanelCard {
  std::string piece;  ///< id of its record
  std::string title;  ///< "Hood"
  std::string zone;
  std::string film;         ///< "Clear gloss, lot 44-A"
  bool bulk = false;        ///< laid as a bulk sheet, else pre-cut
  double finger_share = 0;  ///< of the panel's area, where film folds
  double peak_stretch = 1;  ///< greatest, length to length
  std::size_t relief_cuts = 0;
  std::vector<std::string> remarks;  ///< of the studies, in English; other papers leave them out
  std::vector<std::string> cautions;
  std::vector<Vec2> anchors;    ///< where film is tacked first, flat, mm
  std::vector<CardPull> pulls;  ///< in order
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
  std::string job;  ///< its number
  std::string title;
  std::string vehicle;
  std::string customer;  ///< may be empty
  std::string date;      ///< RFC 3339: printed by day, and the document's own date
  std::vector<std::string> cautions;
  std::vector<CutMap> maps;
  std::vector<PanelCard> cards;
};

/// The work order as PDF: a front page with totals and cautions, the cut map of each roll, then
/// three panel cards a page: picture with anchors and pulls, film and lot, method, waits, cautions.
/// Same input, same bytes.
/// Errors: io, too_large (from the PDF writer).
Result<std::string> write_work_order(const WorkOrder& order, const Stationery& stationery);

}  // namespace film::documents
