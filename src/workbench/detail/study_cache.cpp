#include "workbench/detail/study_cache.h"

namespace film::workbench {

std::shared_ptr<const Study> StudyCache::touch(const std::string& key) {
  const auto found = known_.find(key);
  if (found == known_.end()) return nullptr;
  uses_.splice(uses_.begin(), uses_, found->second.use);
  return found->second.study;
}

std::shared_ptr<const Study> StudyCache::find(const std::string& key) {
  const std::lock_guard lock(mutex_);
  return touch(key);
}

StudyCache::Answer StudyCache::find_or_make(const std::string& key,
                                            const std::function<Answer()>& make) {
  {
    std::unique_lock lock(mutex_);
    made_.wait(lock, [&] { return !making_.contains(key); });
    if (auto study = touch(key)) return study;
    making_.insert(key);
  }
  // Whatever happens below, those who wait must be let go.
  const auto finish = [this, &key](const void*) {
    const std::lock_guard lock(mutex_);
    making_.erase(key);
    made_.notify_all();
  };
  const std::unique_ptr<const void, decltype(finish)> finally(&key, finish);
  Answer answer = make();
  if (!answer) return answer;
  const std::lock_guard lock(mutex_);
  uses_.push_front(key);
  known_[key] = {*answer, uses_.begin()};
  if (known_.size() > kMost) {
    known_.erase(uses_.back());
    uses_.pop_back();
  }
  return answer;
}

}  // namespace film::workbench
