// Jobs, what was made for them, and their history.

#include "store/detail/sql_jobs.h"

#include <algorithm>
#include <map>

#include "base/text.h"
#include "shop/names.h"
#include "store/detail/parsed.h"

namespace film::store::detail {
namespace {

// SQL integers are signed; seeds and counts may use all 64 bits.
std::uint64_t to_number(const std::string& text) {
  try {
    return std::stoull(text);
  } catch (const std::logic_error&) {
    throw Damaged("'" + text + "' is no number");
  }
}

}  // namespace

using soci::into;
using soci::use;

std::vector<shop::Job> SqlJobs::jobs() { return jobs_where("'' = :value", ""); }

std::vector<shop::Job> SqlJobs::jobs(const JobQuery& query) {
  std::string condition =
      "lower(id || ' ' || title || ' ' || customer) LIKE lower(:value) ESCAPE '!'";
  if (query.text.empty()) condition = "'%%' = :value";
  std::string states;
  for (const shop::JobState state : query.states) {
    states += format("{}'{}'", states.empty() ? "" : ", ", name_of(state));
  }
  if (!states.empty()) condition += format(" AND state IN ({})", states);
  return jobs_where(condition, holding(query.text), query.before, query.most);
}

std::optional<shop::Job> SqlJobs::job(const std::string& id) {
  auto found = jobs_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Job> SqlJobs::jobs_where(const std::string& condition, const std::string& value,
                                           const std::string& before, std::size_t most) {
  const auto limit = static_cast<long long>(most);
  shop::Job job;
  std::string state;
  long long revision = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT id, title, customer, vehicle, vehicle_version, state, revision,"
                       " created FROM jobs WHERE " +
                           condition +
                           " AND (:before = '' OR number < (SELECT number FROM jobs WHERE id ="
                           " :before)) ORDER BY number DESC LIMIT :most",
       into(job.id), into(job.title), into(job.customer), into(job.vehicle),
       into(job.vehicle_version), into(state), into(revision), into(job.created),
       use(value, "value"), use(before, "before"), use(limit, "most"));
  statement.execute();
  std::vector<shop::Job> jobs;
  while (statement.fetch()) {
    job.state = parsed<shop::JobState>(state);
    job.revision = revision;
    jobs.push_back(job);
  }
  read_scopes(jobs);
  return jobs;
}

/// A hundred jobs a question: a server that is asked for each job alone takes its way as often.
void SqlJobs::read_scopes(std::vector<shop::Job>& jobs) {
  constexpr std::size_t kAtOnce = 100;
  for (std::size_t first = 0; first < jobs.size(); first += kAtOnce) {
    std::map<std::string, shop::Job*> of;
    std::vector<std::string> ids;
    for (std::size_t i = first; i < std::min(first + kAtOnce, jobs.size()); ++i) {
      of[jobs[i].id] = &jobs[i];
      ids.push_back(jobs[i].id);
    }
    std::string places;
    for (std::size_t i = 0; i < ids.size(); ++i) places += format("{}:j{}", i > 0 ? ", " : "", i);
    std::string job;
    shop::ScopeItem item;
    soci::statement items(sql_);
    items.exchange(into(job));
    items.exchange(into(item.panel));
    items.exchange(into(item.film));
    for (const std::string& id : ids) items.exchange(use(id));
    items.alloc();
    items.prepare("SELECT job, panel, film FROM scope_items WHERE job IN (" + places +
                  ") ORDER BY job, position");
    items.define_and_bind();
    items.execute();
    while (items.fetch()) of.at(job)->scope.push_back(item);
  }
}

shop::Job SqlJobs::add(shop::Job job) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM jobs", into(number);
  job.id = format("J-{:04}", number);
  job.revision = 1;
  const std::string state(name_of(job.state));
  const long long revision = job.revision;
  sql_ << "INSERT INTO jobs (number, id, title, customer, vehicle, vehicle_version, state,"
          " revision, created) VALUES (:number, :id, :title, :customer, :vehicle, :version, :state,"
          " :revision, :created)",
      use(number), use(job.id), use(job.title), use(job.customer), use(job.vehicle),
      use(job.vehicle_version), use(state), use(revision), use(job.created);
  put_scope(job);
  return job;
}

void SqlJobs::put_scope(const shop::Job& job) {
  sql_ << "INSERT INTO vehicle_uses (vehicle, version) VALUES (:vehicle, :version)"
          " ON CONFLICT DO NOTHING",
      use(job.vehicle), use(job.vehicle_version);
  sql_ << "DELETE FROM scope_items WHERE job = :job", use(job.id);
  int position = 0;
  for (const shop::ScopeItem& item : job.scope) {
    sql_ << "INSERT INTO scope_items (job, position, panel, film)"
            " VALUES (:job, :position, :panel, :film)",
        use(job.id), use(position), use(item.panel), use(item.film);
    ++position;
  }
}

Result<void> SqlJobs::update(const shop::Job& job) {
  const std::string state(name_of(job.state));
  const long long revision = job.revision;
  const long long before = job.revision - 1;
  soci::statement statement =
      (sql_.prepare << "UPDATE jobs SET title = :title, customer = :customer, state = :state,"
                       " vehicle_version = :version, revision = :revision WHERE id = :id AND "
                       "revision = :before",
       use(job.title), use(job.customer), use(state), use(job.vehicle_version), use(revision),
       use(job.id), use(before));
  statement.execute(true);
  if (statement.get_affected_rows() != 1) {
    return fail(ErrorCode::conflict, "someone else changed the job first", "job " + job.id,
                "Look at the job as it is now, then decide again.");
  }
  put_scope(job);
  return {};
}

std::vector<shop::KeptLayout> SqlJobs::layouts(const std::string& job) {
  shop::KeptLayout kept_layout;
  std::string seed, iterations;
  soci::statement statement =
      (sql_.prepare << "SELECT job, film, roll, width, length, gap, piece_area, seed, iterations,"
                       " seconds, made, problem, sheet, pieces FROM roll_layouts WHERE job = :job"
                       " ORDER BY film, piece_area DESC, roll",
       into(kept_layout.job), into(kept_layout.film), into(kept_layout.roll),
       into(kept_layout.width.value), into(kept_layout.length.value), into(kept_layout.gap.value),
       into(kept_layout.piece_area), into(seed), into(iterations), into(kept_layout.seconds),
       into(kept_layout.made), into(kept_layout.problem), into(kept_layout.sheet),
       into(kept_layout.pieces), use(job));
  statement.execute();
  std::vector<shop::KeptLayout> layouts;
  while (statement.fetch()) {
    kept_layout.seed = to_number(seed);
    kept_layout.iterations = to_number(iterations);
    layouts.push_back(kept_layout);
  }
  return layouts;
}

void SqlJobs::put(const shop::KeptLayout& l) {
  const std::string seed = format("{}", l.seed);
  const std::string iterations = format("{}", l.iterations);
  sql_ << "DELETE FROM roll_cuts WHERE job = :job AND film = :film AND roll = :roll", use(l.job),
      use(l.film), use(l.roll);
  sql_ << "DELETE FROM roll_layouts WHERE job = :job AND film = :film AND roll = :roll", use(l.job),
      use(l.film), use(l.roll);
  sql_ << "INSERT INTO roll_layouts (job, film, roll, width, length, gap, piece_area, seed, "
          "iterations,"
          " seconds, made, problem, sheet, pieces) VALUES (:job, :film, :roll, :width, :length, "
          ":gap,"
          " :area, :seed, :iterations, :seconds, :made, :problem, :sheet, :pieces)",
      use(l.job), use(l.film), use(l.roll), use(l.width.value), use(l.length.value),
      use(l.gap.value), use(l.piece_area), use(seed), use(iterations), use(l.seconds), use(l.made),
      use(l.problem), use(l.sheet), use(l.pieces);
}

std::vector<shop::KeptCut> SqlJobs::cuts(const std::string& job) {
  shop::KeptCut cut;
  soci::statement statement =
      (sql_.prepare << "SELECT job, film, roll, sheet, profile, cut_mm, travel_mm,"
                       " estimated_seconds, made, path, plot FROM roll_cuts WHERE job = :job"
                       " ORDER BY film, roll",
       into(cut.job), into(cut.film), into(cut.roll), into(cut.sheet), into(cut.profile),
       into(cut.cut_mm), into(cut.travel_mm), into(cut.estimated.value), into(cut.made),
       into(cut.path), into(cut.plot), use(job));
  statement.execute();
  std::vector<shop::KeptCut> cuts;
  while (statement.fetch()) cuts.push_back(cut);
  return cuts;
}

void SqlJobs::put(const shop::KeptCut& cut) {
  sql_ << "DELETE FROM roll_cuts WHERE job = :job AND film = :film AND roll = :roll", use(cut.job),
      use(cut.film), use(cut.roll);
  sql_ << "INSERT INTO roll_cuts (job, film, roll, sheet, profile, cut_mm, travel_mm,"
          " estimated_seconds, made, path, plot) VALUES (:job, :film, :roll, :sheet, :profile,"
          " :cut_mm, :travel_mm, :seconds, :made, :path, :plot)",
      use(cut.job), use(cut.film), use(cut.roll), use(cut.sheet), use(cut.profile), use(cut.cut_mm),
      use(cut.travel_mm), use(cut.estimated.value), use(cut.made), use(cut.path), use(cut.plot);
}

void SqlJobs::drop_layouts(const std::string& job, const std::string& film) {
  sql_ << "DELETE FROM roll_cuts WHERE job = :job AND film = :film", use(job), use(film);
  sql_ << "DELETE FROM roll_layouts WHERE job = :job AND film = :film", use(job), use(film);
}

void SqlJobs::drop_work(const std::string& job) {
  sql_ << "DELETE FROM roll_cuts WHERE job = :job", use(job);
  sql_ << "DELETE FROM roll_layouts WHERE job = :job", use(job);
}

std::vector<shop::HistoryEntry> SqlJobs::history(const std::string& job) {
  shop::HistoryEntry entry;
  soci::statement statement =
      (sql_.prepare << "SELECT at, who, what, detail FROM history WHERE job = :job ORDER BY entry",
       into(entry.at), into(entry.who), into(entry.what), into(entry.detail), use(job));
  statement.execute();
  std::vector<shop::HistoryEntry> entries;
  while (statement.fetch()) entries.push_back(entry);
  return entries;
}

void SqlJobs::append(const std::string& job, const shop::HistoryEntry& entry) {
  sql_ << "INSERT INTO history (job, at, who, what, detail)"
          " VALUES (:job, :at, :who, :what, :detail)",
      use(job), use(entry.at), use(entry.who), use(entry.what), use(entry.detail);
}

}  // namespace film::store::detail
