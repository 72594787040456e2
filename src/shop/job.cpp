#include "shop/job.h"

#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "shop/names.h"

namespace film::shop {
namespace {

constexpr std::size_t kLongestScope = 1000;

bool needs_reason(JobState from, JobState to) {
  return to == JobState::cancelled || (from == JobState::released && to == JobState::scoped) ||
         (from == JobState::inspected && to == JobState::installing);
}

}  // namespace

Result<void> check(const Job& job) {
  const auto refuse = [&job](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what),
                job.id.empty() ? field : format("job {} {}", job.id, field), std::move(remedy));
  };
  if (job.title.empty()) return refuse("a job has no title", "title", "Give it one.");
  if (job.title.size() > 480 || job.customer.size() > 480) {
    return refuse("a title or customer is too long", "title", "Use at most 120 letters.");
  }
  if (job.vehicle.empty()) return refuse("a job has no vehicle", "vehicle", "Name its vehicle.");
  if (job.scope.empty()) {
    return refuse("a job covers nothing", "scope", "Choose at least one panel.");
  }
  if (job.scope.size() > kLongestScope) {
    return refuse(format("a scope of {} panels", job.scope.size()), "scope",
                  format("Split the job: a scope has at most {} panels.", kLongestScope));
  }
  std::set<std::string_view> seen;
  for (const ScopeItem& item : job.scope) {
    if (!seen.insert(item.panel).second) {
      return refuse(format("panel '{}' is covered twice", item.panel), "scope",
                    "Name each panel once.");
    }
  }
  return {};
}

std::vector<std::string> films_of(const Job& job) {
  std::map<std::string, std::size_t> count;
  for (const ScopeItem& item : job.scope) ++count[item.film];
  std::vector<std::string> films;
  for (const auto& [film, panels] : count) films.push_back(film);
  std::stable_sort(films.begin(), films.end(),
                   [&count](const auto& a, const auto& b) { return count.at(a) > count.at(b); });
  return films;
}

std::vector<JobState> moves_of(const Job& job) {
  switch (job.state) {
    case JobState::scoped:
    case JobState::laid_out: return {JobState::cancelled};
    case JobState::cut_planned: return {JobState::released, JobState::cancelled};
    case JobState::released: return {JobState::installing, JobState::scoped, JobState::cancelled};
    case JobState::installing: return {JobState::inspected, JobState::cancelled};
    case JobState::inspected:
      return {JobState::handed_over, JobState::installing, JobState::cancelled};
    case JobState::handed_over:
    case JobState::cancelled: return {};
  }
  return {};
}

std::string_view skipped_step(JobState to, const StepsDone& done) {
  if (to == JobState::inspected && !done.pieces) return "a piece on every panel of its scope";
  if (to == JobState::inspected && !done.inspection) return "an inspection that passed";
  if (to == JobState::handed_over && !done.hand_over) return "a signature of who receives it";
  return {};
}

Result<Job> move(Job job, JobState to, std::string_view reason, const StepsDone& done) {
  const auto moves = moves_of(job);
  if (std::find(moves.begin(), moves.end(), to) == moves.end()) {
    std::string open;
    for (const JobState state : moves) {
      open += (open.empty() ? "" : ", ") + std::string(name_of(state));
    }
    return fail(ErrorCode::conflict,
                format("a job that is {} cannot be moved to {}", name_of(job.state), name_of(to)),
                "job " + job.id,
                open.empty() ? "Open a new job." : format("It can be moved to: {}.", open));
  }
  if (needs_reason(job.state, to) && reason.empty()) {
    return fail(ErrorCode::invalid_input, format("a move to {} needs a reason", name_of(to)),
                "reason", "Say why in a few words; it is kept in the job's history.");
  }
  if (const auto step = skipped_step(to, done); !step.empty() && reason.empty()) {
    return fail(ErrorCode::conflict, format("a move to {} needs {}", name_of(to), step),
                "job " + job.id, "Do that first, or say why it is skipped; the reason is kept.");
  }
  job.state = to;
  ++job.revision;
  return job;
}

bool is_past_planning(JobState state) {
  return state != JobState::scoped && state != JobState::laid_out && state != JobState::cut_planned;
}

JobState state_by_work(const Job& job, const Readiness& readiness) {
  if (is_past_planning(job.state)) return job.state;
  if (readiness.layouts < readiness.films) return JobState::scoped;
  if (readiness.cuts < readiness.films) return JobState::laid_out;
  return JobState::cut_planned;
}

}  // namespace film::shop
