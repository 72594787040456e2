#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "documents/stationery.h"
#include "shop/warranty.h"

namespace film::documents {

/// A piece as it stands on the certificate.
struct CertifiedPiece {
  std::string number;  ///< "P-17"
  std::string panel;
  std::string film;
  std::string lot;
  std::string laid;  ///< a day
};

/// A window as the meter read it.
struct CertifiedReading {
  std::string window;
  std::string film;
  std::string before;
  std::string after;
};

struct CertificatePaper {
  shop::Certificate certificate;
  std::string title;  ///< of the job
  std::string vehicle;
  std::string customer;
  std::vector<CertifiedPiece> pieces;
  std::vector<CertifiedReading> readings;
  std::string received_by;
  std::string declined;  ///< what was offered and not wanted
};

/// The warranty paper as PDF: terms by film, the lot of every piece, meter readings. Same input,
/// same bytes. Errors: io, too_large (from the PDF writer).
Result<std::string> write_certificate(const CertificatePaper& paper, const Stationery& stationery);

/// What the owner should do and leave, common practice. `job` and `date` stand in its head and
/// foot. Errors as above.
Result<std::string> write_care_sheet(const std::string& job, const std::string& vehicle,
                                     const std::string& date, const Stationery& stationery);

}  // namespace film::documents
