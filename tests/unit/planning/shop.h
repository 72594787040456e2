#pragma once

#include <string>
#include <utility>
#include <vector>

#include "planning/project.h"

namespace film::planning {

/// A task of a test: one need of each resource given.
inline Task task(std::string id, Time duration, std::vector<int> needs = {}) {
  Task made;
  made.id = std::move(id);
  made.duration = duration;
  made.needs = std::move(needs);
  return made;
}

}  // namespace film::planning
