#include "server/throttle.h"

#include <algorithm>
#include <cmath>

namespace film::server {
namespace {

constexpr double kLongestWait = 900;
constexpr double kForgottenAfter = 3600;
constexpr std::size_t kMostKeys = 10000;  // a flood of names must not fill the memory

}  // namespace

double Throttle::wait(const std::string& key, double now) const {
  const std::lock_guard lock(mutex_);
  const auto found = failures_.find(key);
  if (found == failures_.end() || found->second.count < free_) return 0;
  const double pause = std::min(kLongestWait, std::exp2(found->second.count - free_));
  return std::max(0.0, found->second.last + pause - now);
}

void Throttle::failed(const std::string& key, double now) {
  const std::lock_guard lock(mutex_);
  if (failures_.size() >= kMostKeys && !failures_.contains(key)) {
    std::erase_if(failures_,
                  [now](const auto& each) { return now - each.second.last > kForgottenAfter; });
    if (failures_.size() >= kMostKeys) failures_.erase(failures_.begin());
  }
  Failures& failures = failures_[key];
  if (now - failures.last > kForgottenAfter) failures.count = 0;
  failures.count = std::min(failures.count + 1, free_ + 20);
  failures.last = now;
}

void Throttle::forget(const std::string& key) {
  const std::lock_guard lock(mutex_);
  failures_.erase(key);
}

}  // namespace film::server
