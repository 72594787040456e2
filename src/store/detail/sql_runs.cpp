// Cutting runs and their journals.

#include "store/detail/sql_runs.h"

#include "base/text.h"
#include "store/detail/parsed.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::vector<shop::CutRun> SqlRuns::runs(const std::string& job) {
  return runs_where("job = :value", job);
}

std::optional<shop::CutRun> SqlRuns::run(const std::string& id) {
  auto found = runs_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::optional<shop::CutRun> SqlRuns::open_run(const std::string& machine) {
  auto found = runs_where("over = 0 AND machine = :value", machine);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::CutRun> SqlRuns::runs_where(const std::string& condition,
                                              const std::string& value) {
  shop::CutRun run;
  long long contours = 0;
  int over = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT id, job, film, roll, machine, plan, profile, contours, used, over,"
                       " started FROM cut_runs WHERE " +
                           condition + " ORDER BY number DESC",
       into(run.id), into(run.job), into(run.film), into(run.roll), into(run.machine),
       into(run.plan), into(run.profile), into(contours), into(run.used.value), into(over),
       into(run.started), use(value));
  statement.execute();
  std::vector<shop::CutRun> runs;
  while (statement.fetch()) {
    run.contours = static_cast<std::size_t>(contours);
    run.over = over != 0;
    runs.push_back(run);
  }
  return runs;
}

Result<shop::CutRun> SqlRuns::add(shop::CutRun run) {
  const auto taken = [](const shop::CutRun& other, const std::string& where) {
    return fail(ErrorCode::conflict,
                format("run {} of job {}, film {}, is not over", other.id, other.job, other.film),
                where, "Cut it to its end or give it up first.");
  };
  if (const auto other = open_run(run.machine)) return taken(*other, "machine " + run.machine);
  for (const shop::CutRun& other : runs(run.job)) {
    if (!other.over && other.film == run.film && other.roll == run.roll)
      return taken(other, "job " + run.job);
  }
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM cut_runs", into(number);
  run.id = format("C-{:04}", number);
  const auto contours = static_cast<long long>(run.contours);
  const int over = run.over;
  sql_ << "INSERT INTO cut_runs (number, id, job, film, roll, machine, plan, profile, contours,"
          " used, over, started) VALUES (:number, :id, :job, :film, :roll, :machine, :plan,"
          " :profile, :contours, :used, :over, :started)",
      use(number), use(run.id), use(run.job), use(run.film), use(run.roll), use(run.machine),
      use(run.plan), use(run.profile), use(contours), use(run.used.value), use(over),
      use(run.started);
  return run;
}

void SqlRuns::update(const shop::CutRun& run) {
  const int over = run.over;
  sql_ << "UPDATE cut_runs SET used = :used, over = :over WHERE id = :id", use(run.used.value),
      use(over), use(run.id);
}

std::vector<shop::CutMark> SqlRuns::marks(const std::string& run) {
  shop::CutMark mark;
  soci::statement statement =
      (sql_.prepare << "SELECT at, text FROM cut_marks WHERE run = :run ORDER BY entry",
       into(mark.at), into(mark.text), use(run));
  statement.execute();
  std::vector<shop::CutMark> marks;
  while (statement.fetch()) marks.push_back(mark);
  return marks;
}

void SqlRuns::append_mark(const std::string& run, const shop::CutMark& mark) {
  sql_ << "INSERT INTO cut_marks (run, at, text) VALUES (:run, :at, :text)", use(run), use(mark.at),
      use(mark.text);
}

std::vector<shop::Recut> SqlRuns::recuts(const std::string& job) {
  return job.empty() ? recuts_where("'' = :value", "") : recuts_where("job = :value", job);
}

std::vector<shop::Recut> SqlRuns::recuts_for_claim(const std::string& claim) {
  return recuts_where("claim <> '' AND claim = :value", claim);
}

std::optional<shop::Recut> SqlRuns::recut(const std::string& id) {
  auto found = recuts_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Recut> SqlRuns::recuts_where(const std::string& condition,
                                               const std::string& value) {
  shop::Recut recut;
  std::string reason;
  soci::statement statement =
      (sql_.prepare << "SELECT id, job, piece, film, stock, lot, reason, note, used, area, run,"
                       " claim, sheet, plot, who, at FROM recuts WHERE " +
                           condition + " ORDER BY number",
       into(recut.id), into(recut.job), into(recut.piece), into(recut.film), into(recut.stock),
       into(recut.lot), into(reason), into(recut.note), into(recut.used.value), into(recut.area),
       into(recut.run), into(recut.claim), into(recut.sheet), into(recut.plot), into(recut.who),
       into(recut.at), use(value));
  statement.execute();
  std::vector<shop::Recut> recuts;
  while (statement.fetch()) {
    recut.reason = parsed<shop::RecutReason>(reason);
    recuts.push_back(recut);
  }
  return recuts;
}

shop::Recut SqlRuns::add(shop::Recut recut) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM recuts", into(number);
  recut.id = format("X-{:04}", number);
  const std::string reason(shop::name_of(recut.reason));
  sql_ << "INSERT INTO recuts (number, id, job, piece, film, stock, lot, reason, note, used, area,"
          " run, claim, sheet, plot, who, at) VALUES (:number, :id, :job, :piece, :film, :stock, "
          ":lot,"
          " :reason, :note, :used, :area, :run, :claim, :sheet, :plot, :who, :at)",
      use(number), use(recut.id), use(recut.job), use(recut.piece), use(recut.film),
      use(recut.stock), use(recut.lot), use(reason), use(recut.note), use(recut.used.value),
      use(recut.area), use(recut.run), use(recut.claim), use(recut.sheet), use(recut.plot),
      use(recut.who), use(recut.at);
  return recut;
}

}  // namespace film::store::detail
