#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "hours/model.h"

namespace film::workbench {

/// A quick layout of pieces on a roll.
struct FirstLayout {
  double length = 0;                 ///< mm of roll
  std::vector<std::size_t> too_big;  ///< pieces, by index, that the roll cannot take
};

/// What reckoning offers has computed before, so that the next click is answered at once.
/// Thread-safe.
class OfferCache {
 public:
  [[nodiscard]] std::optional<FirstLayout> layout(const std::string& key);
  void keep(const std::string& key, FirstLayout layout);

  /// The hours as learnt from records up to `last_entry`, beginning with `belief`.
  struct Learnt {
    hours::Belief belief;
    hours::Model model;
    std::int64_t last_entry = 0;
  };
  [[nodiscard]] std::shared_ptr<const Learnt> learnt();
  void keep(std::shared_ptr<const Learnt> learnt);

 private:
  static constexpr std::size_t kMostLayouts = 2000;

  std::mutex mutex_;
  std::map<std::string, FirstLayout> layouts_;
  std::shared_ptr<const Learnt> learnt_;
};

}  // namespace film::workbench
