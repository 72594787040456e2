#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/profile.h"
#include "shop/settings.h"

namespace film::store {

/// The shop itself and its machines: a part of Book (store/book.h).
class ShopBook {
 public:
  virtual ~ShopBook() = default;

  virtual std::optional<shop::Settings> settings() = 0;  ///< none in a new book
  virtual void put(const shop::Settings& settings) = 0;

  virtual std::vector<shop::KnifeProfile> profiles() = 0;  ///< by name
  virtual std::optional<shop::KnifeProfile> profile(const std::string& id) = 0;
  virtual void put(const shop::KnifeProfile& profile) = 0;
};

}  // namespace film::store
