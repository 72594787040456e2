#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "hours/model.h"
#include "shop/price.h"

namespace film::workbench {

/// A quick layout of pieces on the film at hand.
struct FilmLaid {
  std::vector<shop::FilmCut> cuts;                        ///< those of rolls last
  double needed = 0;                                      ///< see shop::FilmAmount
  std::vector<std::pair<std::size_t, std::string>> left;  ///< pieces by index, and why
};

/// What reckoning offers has computed before, so that the next click is answered at once.
/// Thread-safe.
class OfferCache {
 public:
  [[nodiscard]] std::optional<FilmLaid> layout(const std::string& key);
  void keep(const std::string& key, FilmLaid layout);

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
  std::map<std::string, FilmLaid> layouts_;
  std::shared_ptr<const Learnt> learnt_;
};

}  // namespace film::workbench
