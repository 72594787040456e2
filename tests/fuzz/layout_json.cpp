#include "exchange/layout_json.h"

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/assert.h"
#include "layout/solve.h"
#include "layout/verify.h"

/// Any bytes: read as a problem or refused; a small problem is laid out and the layout holds.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  static_cast<void>(film::exchange::read_layout_sheet(bytes));
  const auto problem = film::exchange::read_layout_problem(bytes);
  if (!problem) return 0;
  std::size_t corners = 0;
  for (const auto& item : problem->items) corners += item.shape.outer.size();
  if (film::layout::copies_in(*problem) > 12 || corners > 60) return 0;
  const auto solution = film::layout::solve(*problem, {.iteration_limit = 3}, {});
  if (!solution) return 0;
  FILM_ASSERT(film::layout::verify(*problem, *solution).empty());
  const auto sheet = film::exchange::make_sheet(*problem, *solution);
  FILM_ASSERT(film::exchange::read_layout_sheet(film::exchange::write_layout_sheet(sheet)));
  return 0;
}
