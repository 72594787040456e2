// Any bytes: either a request or an error that says where; what was read adds up.

#include "exchange/glass_json.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <numeric>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace film;
  const auto request =
      exchange::read_glass_request(std::string_view(reinterpret_cast<const char*>(bytes), size));
  if (!request) {
    if (request.error().what.empty() || request.error().where.empty()) std::abort();
    return 0;
  }
  for (const glazing::BandWeights& band : request->bands) {
    const auto result = glazing::average_of(request->stack, band);
    if (!result) continue;
    const glazing::StackOptics& optics = result->optics;
    const double sum = optics.total.transmit_front + optics.total.reflect_front +
                       std::accumulate(optics.absorbed.begin(), optics.absorbed.end(), 0.0);
    if (!(std::abs(sum - 1) < 1e-6)) std::abort();
  }
  return 0;
}
