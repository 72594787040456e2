#pragma once

#include <string>

#include "base/units.h"
#include "shop/letterhead.h"
#include "shop/settings.h"

namespace film::documents {

/// What every paper of a shop is written on.
struct Stationery {
  std::string shop;  ///< its name
  shop::Letterhead head;
  std::string logo;  ///< the bytes of a PNG or JPEG; may be empty
  shop::LengthUnit unit = shop::LengthUnit::mm;
  std::string currency = "EUR";  ///< ISO 4217
};

/// Where a record is found, for people's telephones: the shop's address with `path` ("jobs/J-0001")
/// after it. Without an address the path under a scheme of ours, so that a reader still tells it.
std::string link_to(const Stationery& stationery, const std::string& path);

/// A length as people read it: "1524 mm", from 10 m on "15.24 m", or "60.0 in"; in German with a
/// comma.
std::string length_text(Mm length, shop::LengthUnit unit, shop::Language language);

/// "4 May 2031" or "4. Mai 2031", of a day or a moment that begins with one; other text as it is.
std::string date_text(const std::string& day, shop::Language language);

/// A number with so many digits after the point, or comma.
std::string number_text(double value, int digits, shop::Language language);

}  // namespace film::documents
