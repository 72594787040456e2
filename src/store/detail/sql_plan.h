#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/plan_book.h"

namespace film::store::detail {

/// Workplace, plans and feeds, in SQL.
class SqlPlan : public virtual PlanBook {
 public:
  explicit SqlPlan(Sql& sql) : sql_(sql.session) {}

  std::optional<shop::Workplace> workplace() override;
  Result<void> put_workplace(const shop::Workplace& workplace) override;
  std::optional<shop::PlanVersion> plan() override;
  std::vector<shop::PlanVersion> plan_history(int most) override;
  Result<void> append_plan(const shop::PlanVersion& plan) override;
  std::optional<shop::PlanFeed> plan_feed(const std::string& secret_hash) override;
  void add_plan_feed(const shop::PlanFeed& feed) override;

 private:
  soci::session& sql_;
};

}  // namespace film::store::detail
