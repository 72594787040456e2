#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "documents/stationery.h"
#include "shop/installed_piece.h"
#include "shop/warranty.h"

namespace film::documents {

struct ClaimPaper {
  shop::ClaimRecord record;
  std::string vehicle;
  std::string customer;
  std::string panel;     ///< its name
  std::string film;      ///< its name
  std::string issued;    ///< of the certificate that covers the piece; empty: none
  std::string term_end;  ///< a day; empty: no term
  std::vector<shop::InstalledPiece> pieces;  ///< that ever were on the panel, oldest first
  std::vector<std::string> photos;           ///< their bytes
};

/// A claim with the piece's lot and history, its photos and what was decided, for the film's maker,
/// as PDF. Same input, same bytes. Errors: io, too_large (from the PDF writer).
Result<std::string> write_claim_report(const ClaimPaper& paper, const Stationery& stationery);

}  // namespace film::documents
