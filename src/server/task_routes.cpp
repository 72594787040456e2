// Long work: its state, its events, its end.

#include "server/api.h"
#include "server/encode.h"
#include "server/problem.h"

namespace film::server {
namespace {

/// The number of the last event that a listener has seen; 0 when it is new or sends nonsense.
std::uint64_t last_event(const Request& request) {
  std::uint64_t number = 0;
  for (const char c : request.header("last-event-id").substr(0, 18)) {
    if (c < '0' || c > '9') return 0;
    number = number * 10 + static_cast<std::uint64_t>(c - '0');
  }
  return number;
}

}  // namespace

void Api::add_task_routes() {
  router_.get("/api/v1/tasks/{task}", [this](const Call& call) {
    const auto task = tasks_.find(call["task"]);
    return task ? json_response(encode(*task)) : problem(task.error());
  });
  router_.add("DELETE", "/api/v1/tasks/{task}", {}, [this](const Call& call) {
    const auto task = tasks_.stop(call["task"]);
    return task ? json_response(encode(*task), 202) : problem(task.error());
  });
  router_.get("/api/v1/tasks/{task}/events", [this](const Call& call) {
    auto events = tasks_.follow(call["task"], last_event(call.request));
    if (!events) return problem(events.error());
    Response response;
    response.headers = {{"Content-Type", "text/event-stream"}, {"Cache-Control", "no-store"}};
    response.events = std::move(*events);
    return response;
  });
}

}  // namespace film::server
