#pragma once

#include <fmt/format.h>

namespace film {

/// Text formatting; the only header that names fmt, until std::format is at hand.
using fmt::format;

}  // namespace film
