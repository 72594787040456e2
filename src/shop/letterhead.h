#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/language.h"

namespace film::shop {

enum class PaperSize { a4, letter };

/// How the shop's papers look.
struct Letterhead {
  std::vector<std::string> lines;  ///< address, telephone; at most 6
  std::string tax_id;              ///< may be empty
  std::string bank;                ///< where to pay, one line; may be empty
  std::string logo;                ///< content hash of a PNG or JPEG; empty: none
  std::string address;             ///< of the shop's pages, "https://film.example"; for QR codes
  Language language = Language::english;
  PaperSize paper = PaperSize::a4;

  friend bool operator==(const Letterhead&, const Letterhead&) = default;
};

/// Errors: invalid_input naming the field (too many or too long lines, an address that is not http
/// or https).
Result<void> check(const Letterhead& letterhead);

}  // namespace film::shop
