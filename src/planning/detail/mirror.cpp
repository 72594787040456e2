#include "planning/detail/mirror.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace film::planning::detail {
namespace {

Span mirrored(const Span& span, Time horizon) {
  return {horizon - span.until, horizon - span.from};
}

}  // namespace

Shop mirrored(const Shop& shop, Time horizon) {
  Shop mirror = shop;
  for (Person& person : mirror.people) {
    std::vector<Span> spans;
    for (const Span& span : person.hours.spans()) spans.push_back(mirrored(span, horizon));
    std::reverse(spans.begin(), spans.end());
    person.hours = WorkLine(std::move(spans));
  }
  return mirror;
}

Job mirrored(const Job& job, Time horizon, Time end) {
  Job mirror = job;
  mirror.arrives = std::max(0, horizon - end);
  mirror.promise = kNever;
  for (After& after : mirror.afters) std::swap(after.from, after.to);
  std::reverse(mirror.stages.begin(), mirror.stages.end());
  for (ShopTask& task : mirror.tasks) {
    if (task.stage) task.stage = job.stages.size() - 1 - *task.stage;
    if (task.fixed) task.fixed->span = mirrored(task.fixed->span, horizon);
  }
  return mirror;
}

}  // namespace film::planning::detail
