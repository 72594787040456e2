#include "planning/bounds.h"

#include <algorithm>
#include <cstdint>
#include <numeric>

#include "base/text.h"

namespace film::planning {

Bound critical_path_bound(const Project& project, const StartWindows& windows) {
  Bound bound{0, "nothing to do"};
  for (std::size_t i = 0; i < project.tasks.size(); ++i) {
    const Time end = windows.earliest[i] + project.tasks[i].duration;
    if (end <= bound.end) continue;
    bound = {end, format("the chain of lags that ends with task {}", project.tasks[i].id)};
  }
  return bound;
}

Bound resource_bound(const Project& project, const StartWindows& windows) {
  const std::size_t n = project.tasks.size();
  std::vector<std::size_t> by_start(n);
  std::iota(by_start.begin(), by_start.end(), std::size_t{0});
  std::sort(by_start.begin(), by_start.end(), [&](std::size_t a, std::size_t b) {
    return windows.earliest[a] > windows.earliest[b];
  });
  Bound bound{0, "nothing to do"};
  for (std::size_t r = 0; r < project.resources.size(); ++r) {
    const Resource& resource = project.resources[r];
    if (resource.capacity == 0) continue;
    std::int64_t energy = 0;
    for (std::size_t k = 0; k < n; ++k) {
      const Task& task = project.tasks[by_start[k]];
      energy += static_cast<std::int64_t>(need_of(task, r)) * task.duration;
      if (energy == 0) continue;
      const std::int64_t span = (energy + resource.capacity - 1) / resource.capacity;
      const auto end =
          static_cast<Time>(std::min<std::int64_t>(windows.earliest[by_start[k]] + span, kNever));
      if (end <= bound.end) continue;
      bound = {end,
               format("from {} on, resource {} has {} units of work and does at most {} a step",
                      windows.earliest[by_start[k]], resource.id, energy, resource.capacity)};
    }
  }
  return bound;
}

Bound lower_bound(const Project& project, const StartWindows& windows) {
  Bound path = critical_path_bound(project, windows);
  Bound work = resource_bound(project, windows);
  return path.end >= work.end ? path : work;
}

}  // namespace film::planning
