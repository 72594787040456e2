// Measures what docs/evidence.md says of the shop's book: one JSON object a line. Parts by name
// (hours, clicks, kills, cuts, years, chain, tablets), some of them perhaps shorter: `kills=50`,
// `tablets=30` (seconds).

#include <cstdlib>
#include <map>
#include <string>

#include "evidence_shop_book/clicks.h"
#include "evidence_shop_book/hours.h"
#include "evidence_shop_book/parts.h"

int main(int count, char** arguments) {
  std::map<std::string, int> parts;
  for (int i = 1; i < count; ++i) {
    const std::string text = arguments[i];
    const std::size_t equals = text.find('=');
    parts[text.substr(0, equals)] =
        equals == std::string::npos ? 0 : std::atoi(text.c_str() + equals + 1);
  }
  /// The size of a part: 0 when others were asked for.
  const auto size = [&parts](const char* name, int whole) {
    if (parts.empty()) return whole;
    const auto found = parts.find(name);
    if (found == parts.end()) return 0;
    return found->second == 0 ? whole : found->second;
  };
  if (size("hours", 1) > 0) film::bench::measure_hours();
  if (size("clicks", 1) > 0) film::bench::measure_clicks();
  if (const int times = size("kills", 500)) film::bench::kill_writers(times);
  if (const int times = size("cuts", 500)) film::bench::cut_connections(times);
  if (const int jobs = size("years", 10000)) film::bench::ten_years(jobs);
  if (const int jobs = size("chain", 10000)) film::bench::chain(50, jobs);
  if (const int seconds = size("tablets", 300)) film::bench::tablets(50, seconds);
}
