#include "exchange/calendar_feed.h"

#include <algorithm>
#include <string_view>
#include <tuple>

#include "base/text.h"

namespace film::exchange {
namespace {

std::string time_of(Instant t) {
  const auto day = std::chrono::floor<std::chrono::days>(t);
  const std::chrono::year_month_day date(day);
  const auto minute = (t - day).count();
  return format("{:04}{:02}{:02}T{:02}{:02}00Z", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), minute / 60,
                minute % 60);
}

/// RFC 5545, 3.3.11; other control characters have no place in a text.
std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || c == ';' || c == ',') out += '\\';
    if (c == '\n') {
      out += "\\n";
    } else if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) {
      out += c;
    }
  }
  return out;
}

/// RFC 5545, 3.1: at most 75 bytes a line, the next begins with a space.
void add_line(std::string& out, std::string_view line) {
  std::size_t room = 75;
  while (line.size() > room) {
    std::size_t cut = room;
    while (cut > 1 && (static_cast<unsigned char>(line[cut]) & 0xc0) == 0x80) --cut;
    out += line.substr(0, cut);
    out += "\r\n ";
    line.remove_prefix(cut);
    room = 74;
  }
  out += line;
  out += "\r\n";
}

}  // namespace

std::vector<FeedEvent> events_of(const planning::Shop& shop, const std::vector<planning::Job>& jobs,
                                 const planning::ShopPlan& plan,
                                 std::optional<std::size_t> person) {
  std::vector<FeedEvent> events;
  for (std::size_t j = 0; j < plan.size(); ++j) {
    for (std::size_t i = 0; i < plan[j].slots.size(); ++i) {
      const planning::ShopTask& task = jobs[j].tasks[i];
      const planning::Slot& slot = plan[j].slots[i];
      const auto& people = slot.people;
      const bool theirs =
          !person || std::find(people.begin(), people.end(), *person) != people.end();
      if (people.empty() || !theirs) continue;
      FeedEvent event;
      event.uid = format("{}/{}@filmwright", jobs[j].id, task.id);
      event.from = shop.origin + slot.span.from * shop.step;
      event.until = shop.origin + slot.span.until * shop.step;
      event.summary = format("{}: {}", jobs[j].id, task.id);
      if (task.stage) event.place = shop.bays[plan[j].bays[*task.stage]].id;
      for (const std::size_t p : people) {
        event.details += (event.details.empty() ? "" : ", ") + shop.people[p].id;
      }
      events.push_back(std::move(event));
    }
  }
  std::sort(events.begin(), events.end(), [](const FeedEvent& a, const FeedEvent& b) {
    return std::tie(a.from, a.until, a.uid) < std::tie(b.from, b.until, b.uid);
  });
  return events;
}

std::string write_feed(const std::string& name, const std::vector<FeedEvent>& events,
                       Instant stamped, std::int64_t sequence) {
  std::string out;
  const auto line = [&out](const std::string& text) { add_line(out, text); };
  line("BEGIN:VCALENDAR");
  line("VERSION:2.0");
  line("PRODID:-//Filmwright//Plan//EN");
  line("METHOD:PUBLISH");
  line("X-WR-CALNAME:" + escaped(name));
  for (const FeedEvent& event : events) {
    line("BEGIN:VEVENT");
    line("UID:" + escaped(event.uid));
    line("DTSTAMP:" + time_of(stamped));
    line(format("SEQUENCE:{}", sequence));
    line("DTSTART:" + time_of(event.from));
    line("DTEND:" + time_of(event.until));
    line("SUMMARY:" + escaped(event.summary));
    if (!event.place.empty()) line("LOCATION:" + escaped(event.place));
    if (!event.details.empty()) line("DESCRIPTION:" + escaped(event.details));
    line("END:VEVENT");
  }
  line("END:VCALENDAR");
  return out;
}

}  // namespace film::exchange
