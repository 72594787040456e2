#include "base/assert.h"

#include <cstdlib>

#include <fmt/core.h>

namespace film {

void assertion_failed(const char* condition, const char* file, int line) {
  fmt::print(stderr, "{}:{}: broken promise: {}\n", file, line, condition);
  std::abort();
}

}  // namespace film
