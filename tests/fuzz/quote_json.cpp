// Any bytes as a quote and as a price list: what is read is sound and is written back the same.

#include "exchange/quote_json.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "exchange/price_list_json.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace film;
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  if (const auto quote = exchange::read_quote(bytes)) {
    if (exchange::read_quote(exchange::write_quote(*quote)) != *quote) std::abort();
  }
  if (const auto list = exchange::read_price_list(bytes)) {
    if (exchange::read_price_list(exchange::write_price_list(*list)) != *list) std::abort();
    shop::WorkNeed work;
    work.covered_area = work.coated_area = 5'000'000;
    work.laying.expected = 300;
    (void)shop::price_of(work, *list, {shop::Rate::percent(10)});
  }
  return 0;
}
