#include "workbench/detail/offer_cache.h"

#include <utility>

namespace film::workbench {

std::optional<FilmLaid> OfferCache::layout(const std::string& key) {
  const std::lock_guard lock(mutex_);
  const auto found = layouts_.find(key);
  if (found == layouts_.end()) return std::nullopt;
  return found->second;
}

void OfferCache::keep(const std::string& key, FilmLaid layout) {
  const std::lock_guard lock(mutex_);
  if (layouts_.size() >= kMostLayouts) layouts_.clear();
  layouts_[key] = std::move(layout);
}

std::shared_ptr<const OfferCache::Learnt> OfferCache::learnt() {
  const std::lock_guard lock(mutex_);
  return learnt_;
}

void OfferCache::keep(std::shared_ptr<const Learnt> learnt) {
  const std::lock_guard lock(mutex_);
  learnt_ = std::move(learnt);
}

}  // namespace film::workbench
