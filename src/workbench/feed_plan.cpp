#include "workbench/feed_plan.h"

#include <chrono>
#include <random>

#include "base/text.h"
#include "exchange/calendar_feed.h"
#include "store/content_hash.h"
#include "store/store.h"

namespace film::workbench {

Result<std::string> open_feed(Workbench& workbench, const std::string& person) {
  if (!person.empty()) {
    const auto desk = plan_desk(workbench);
    if (!desk) return Failure(desk.error());
    if (const auto known = person_named(*desk, person); !known) return Failure(known.error());
  }
  std::random_device device;  // the machine's own source of secrets
  std::string secret;
  for (int k = 0; k < 5; ++k) secret += format("{:08x}", static_cast<unsigned>(device()));
  const shop::PlanFeed feed{store::content_hash(secret), person, now()};
  auto done =
      workbench.store().change([&feed](store::Book& book) { return book.add_plan_feed(feed); });
  if (!done) return Failure(done.error());
  return secret;
}

Result<std::string> read_feed(Workbench& workbench, const std::string& secret) {
  const auto feed = workbench.store().look(
      [&secret](store::Book& book) { return book.plan_feed(store::content_hash(secret)); });
  if (!feed) return Failure(feed.error());
  if (!*feed) return fail(ErrorCode::not_found, "there is no such calendar", "calendar", "");
  const auto desk = plan_desk(workbench);
  if (!desk) return Failure(desk.error());
  std::optional<std::size_t> person;
  if (!(*feed)->person.empty()) {
    const auto known = person_named(*desk, (*feed)->person);
    if (!known) return Failure(known.error());
    person = *known;
  }
  const auto& file = desk->file;
  auto events = exchange::events_of(file.shop, file.jobs, file.running, person);
  return exchange::write_feed((*feed)->person.empty() ? "Filmwright" : (*feed)->person, events,
                              file.shop.origin + desk->now * file.shop.step, desk->version);
}

}  // namespace film::workbench
