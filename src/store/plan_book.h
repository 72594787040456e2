#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/plan_record.h"

namespace film::store {

/// Who works when and where, and the plan in all its versions: a part of Book (store/book.h).
class PlanBook {
 public:
  virtual ~PlanBook() = default;

  virtual std::optional<shop::Workplace> workplace() = 0;  ///< none in a new book
  /// `revision` is the new one; errors with conflict when the stored one is not the one before it.
  virtual Result<void> put_workplace(const shop::Workplace& workplace) = 0;

  virtual std::optional<shop::PlanVersion> plan() = 0;  ///< the newest
  /// Without their texts, newest first, at most `most`.
  virtual std::vector<shop::PlanVersion> plan_history(int most) = 0;
  /// Errors with conflict when `number` does not follow the newest: somebody else was faster.
  virtual Result<void> append_plan(const shop::PlanVersion& plan) = 0;

  virtual std::optional<shop::PlanFeed> plan_feed(const std::string& secret_hash) = 0;
  virtual void add_plan_feed(const shop::PlanFeed& feed) = 0;
};

}  // namespace film::store
