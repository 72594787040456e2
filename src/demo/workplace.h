#pragma once

#include <string_view>
#include <vector>

namespace film::demo {

/// People, shifts, bays and holidays of the invented shop, as docs/formats/plan.md has them, with
/// its clock on a Monday morning.
std::string_view workplace();

/// Work that stands in the shop beside the first look's order.
struct Booking {
  std::string_view text;     ///< as `jobs[]` of docs/formats/plan.md
  std::string_view arrives;  ///< by the wall clock
  std::string_view promise;
};
std::vector<Booking> bookings();

/// When the order of the first look comes in, and what it is promised for.
Booking first_order_times();

}  // namespace film::demo
