#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "geometry/polygon.h"
#include "layout/problem.h"
#include "layout/solution.h"
#include "layout/stock.h"

namespace film::exchange {

/// Reads what is to be laid out. Two forms, told apart by their keys: the public benchmark form
/// (`items` + `strip_height`) and our own piece set (`pieces` + `strip`); both are described in
/// docs/formats/layout.md. Zero-width spikes and repeated points are taken out of outlines; they
/// change no area. Errors (invalid_input, unsupported, too_large) name the item.
Result<layout::Problem> read_layout_problem(std::string_view bytes);

/// A problem in our own form; read_layout_problem reads it back to the same value.
std::string write_layout_problem(const layout::Problem& problem);

/// Pieces, and the film at hand to choose from.
struct StockJob {
  std::string name;
  std::vector<layout::Demand> demands;
  std::vector<layout::Stock> stocks;
  layout::Terms terms;
  layout::Grouping grouping = layout::Grouping::free;

  friend bool operator==(const StockJob&, const StockJob&) = default;
};

/// Is this our own form with `stock` in place of `strip`?
bool holds_stock(std::string_view bytes);
/// Reads pieces and stock, docs/formats/layout.md. Errors as read_layout_problem.
Result<StockJob> read_stock_job(std::string_view bytes);
/// What is cut from what, with a layout for each roll and offcut used.
std::string write_allotment(const StockJob& job, const layout::Allotment& allotment);

/// One piece of a finished layout, where it lies: x along the roll, y across it.
struct LaidPiece {
  std::string item;
  int copy = 0;
  double rotation_deg = 0;
  Vec2 move;  ///< after the turn about the item's own origin
  Polygon outline;
  std::string label;            ///< what is written on the piece; may be empty
  std::string zone;             ///< its group; may be empty
  std::vector<Polyline> slits;  ///< relief slits where the piece lies; may be empty

  friend bool operator==(const LaidPiece&, const LaidPiece&) = default;
};

/// A layout as it goes to the knife or to a judge: it stands alone, without its problem.
struct LayoutSheet {
  std::string name;
  std::string units = "mm";  ///< "mm", or empty when unknown
  double width = 0;          ///< across the roll
  double length = 0;         ///< along the roll
  double density_pct = 0;
  std::vector<LaidPiece> pieces;
  std::vector<std::string> unplaced;  ///< "id copy: reason"

  friend bool operator==(const LayoutSheet&, const LayoutSheet&) = default;
};

LayoutSheet make_sheet(const layout::Problem& problem, const layout::Solution& solution);

/// Layout JSON, docs/formats/layout.md. Numbers are written so that they read back to the same
/// bits: an exact check of the file is an exact check of the layout.
std::string write_layout_sheet(const LayoutSheet& sheet);
/// Errors (invalid_input) name the placement.
Result<LayoutSheet> read_layout_sheet(std::string_view bytes);

}  // namespace film::exchange
