#pragma once

namespace film {
/// Prints the broken promise and aborts. Called only by FILM_ASSERT.
[[noreturn]] void assertion_failed(const char* condition, const char* file, int line);
}  // namespace film

/// Stops the program when the programmer's own promise is broken; never used on input. On in
/// every build, so keep the condition cheap.
#define FILM_ASSERT(condition) \
  ((condition) ? static_cast<void>(0) : ::film::assertion_failed(#condition, __FILE__, __LINE__))
