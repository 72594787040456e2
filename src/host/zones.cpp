#include "host/zones.h"

#include <exception>
#include <string>

#include <date/tz.h>

#include "base/text.h"

namespace film::host {

Result<Zone> find_zone(std::string_view name) {
  try {
    const date::time_zone& found = *date::locate_zone(std::string(name));
    const auto rounded = [](std::chrono::seconds span) {
      return std::chrono::floor<std::chrono::minutes>(span);
    };
    const date::sys_seconds end = date::sys_days(date::year(2038) / 1 / 1);
    date::sys_info info =
        found.get_info(date::sys_seconds(date::sys_days(date::year(1970) / 1 / 1)));
    Zone zone{std::string(name), rounded(info.offset), {}};
    while (info.end < end) {
      info = found.get_info(info.end);
      if (info.begin >= end) break;
      zone.changes.push_back(
          {std::chrono::floor<std::chrono::minutes>(info.begin), rounded(info.offset)});
    }
    return zone;
  } catch (const std::exception&) {
    return fail(ErrorCode::not_found, format("no time zone named \"{}\" on this machine", name), {},
                "Use a name of the IANA database such as Europe/Berlin");
  }
}

}  // namespace film::host
