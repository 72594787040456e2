#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "documents/stationery.h"

namespace film::documents {

/// One window on the certificate.
struct GlassLine {
  std::string window;
  std::string film;    ///< with its lot
  std::string before;  ///< "74.0 % +- 2.0, meter ..."; or "not read"
  std::string after;
  std::string verdict;  ///< "allowed", "not allowed", "unknown"
  std::string reason;
  std::string law;  ///< the text cited, how and when it was read; may be empty
};

/// One signed decision.
struct SignedLine {
  std::string panel;
  std::string concern;
  std::string decision;
  std::string signed_by;
  std::string basis;
  std::string day;
};

struct GlassSheet {
  std::string job;
  std::string title;
  std::string vehicle;
  std::string customer;
  std::string date;   ///< RFC 3339
  std::string place;  ///< in words; empty: none was chosen
  std::vector<GlassLine> windows;
  std::vector<SignedLine> decisions;
};

/// Certificate of window readings and decisions as PDF. Same input, same bytes.
/// Errors: io, too_large (from the PDF writer).
Result<std::string> write_glass_sheet(const GlassSheet& sheet, const Stationery& stationery);

}  // namespace film::documents
