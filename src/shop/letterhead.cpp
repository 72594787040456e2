#include "shop/letterhead.h"

#include "shop/detail/text_fields.h"

namespace film::shop {
namespace {

bool is_web_address(const std::string& text) {
  if (text.rfind("https://", 0) != 0 && text.rfind("http://", 0) != 0) return false;
  return text.find_first_of(" \"<>\\^`{|}\n\r\t") == std::string::npos;
}

}  // namespace

Result<void> check(const Letterhead& letterhead) {
  if (letterhead.lines.size() > 6) {
    return fail(ErrorCode::invalid_input, "an address of more than 6 lines", "lines",
                "Leave some out.");
  }
  for (const std::string& line : letterhead.lines) {
    if (auto sound = detail::check({{line, "lines", 0, 240}}); !sound) return sound;
  }
  if (auto sound = detail::check({{letterhead.tax_id, "tax_id", 0, 100},
                                  {letterhead.bank, "bank", 0, 240},
                                  {letterhead.logo, "logo", 0, 100},
                                  {letterhead.address, "address", 0, 240}});
      !sound) {
    return sound;
  }
  if (!letterhead.address.empty() && !is_web_address(letterhead.address)) {
    return fail(ErrorCode::invalid_input, "'" + letterhead.address + "' is no web address",
                "address", "Begin it with https:// or http://.");
  }
  return {};
}

}  // namespace film::shop
