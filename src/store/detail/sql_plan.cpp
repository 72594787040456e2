// Workplace, plans and feeds. Times and texts as they come; the plan's text is a document.

#include "store/detail/sql_plan.h"

#include "base/text.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::optional<shop::Workplace> SqlPlan::workplace() {
  shop::Workplace found;
  long long revision = 0;
  sql_ << "SELECT text, revision FROM workplaces WHERE entry = 1", into(found.text), into(revision);
  if (!sql_.got_data()) return std::nullopt;
  found.revision = revision;
  return found;
}

Result<void> SqlPlan::put_workplace(const shop::Workplace& workplace) {
  const auto before = this->workplace();
  const std::int64_t stored = before ? before->revision : 0;
  if (workplace.revision != stored + 1) {
    return fail(ErrorCode::conflict, "the workplace was changed by somebody else meanwhile",
                "workplace", "Load it again, then repeat the change.");
  }
  const long long revision = workplace.revision;
  sql_ << "INSERT INTO workplaces (entry, text, revision) VALUES (1, :text, :revision)"
          " ON CONFLICT (entry) DO UPDATE SET text = excluded.text, revision = excluded.revision",
      use(workplace.text), use(revision);
  return {};
}

std::optional<shop::PlanVersion> SqlPlan::plan() {
  shop::PlanVersion plan;
  long long number = 0;
  sql_ << "SELECT number, made, who, what, text FROM plans ORDER BY number DESC LIMIT 1",
      into(number), into(plan.made), into(plan.who), into(plan.what), into(plan.text);
  if (!sql_.got_data()) return std::nullopt;
  plan.number = number;
  return plan;
}

std::vector<shop::PlanVersion> SqlPlan::plan_history(int most) {
  shop::PlanVersion plan;
  long long number = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT number, made, who, what FROM plans ORDER BY number DESC LIMIT :most",
       into(number), into(plan.made), into(plan.who), into(plan.what), use(most));
  statement.execute();
  std::vector<shop::PlanVersion> plans;
  while (statement.fetch()) {
    plan.number = number;
    plans.push_back(plan);
  }
  return plans;
}

Result<void> SqlPlan::append_plan(const shop::PlanVersion& plan) {
  long long newest = 0;
  sql_ << "SELECT COALESCE(MAX(number), 0) FROM plans", into(newest);
  if (plan.number != newest + 1) {
    return fail(ErrorCode::conflict, "the plan was changed by somebody else meanwhile", "plan",
                "Look at the new plan, then repeat the change.");
  }
  const long long number = plan.number;
  sql_ << "INSERT INTO plans (number, made, who, what, text)"
          " VALUES (:number, :made, :who, :what, :text)",
      use(number), use(plan.made), use(plan.who), use(plan.what), use(plan.text);
  return {};
}

std::optional<shop::PlanFeed> SqlPlan::plan_feed(const std::string& secret_hash) {
  shop::PlanFeed feed{secret_hash, {}, {}};
  sql_ << "SELECT person, made FROM plan_feeds WHERE secret_hash = :hash", into(feed.person),
      into(feed.made), use(secret_hash);
  if (!sql_.got_data()) return std::nullopt;
  return feed;
}

void SqlPlan::add_plan_feed(const shop::PlanFeed& feed) {
  sql_ << "INSERT INTO plan_feeds (secret_hash, person, made) VALUES (:hash, :person, :made)",
      use(feed.secret_hash), use(feed.person), use(feed.made);
}

}  // namespace film::store::detail
