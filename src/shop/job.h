#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace film::shop {

/// Where a job is in its life.
enum class JobState {
  scoped,       ///< what to cover with what is decided
  laid_out,     ///< every film of the scope has a kept layout
  cut_planned,  ///< every film of the scope has a knife path
  released,     ///< free for the plotter
  installing,   ///< film goes onto the vehicle
  inspected,    ///< what was laid was looked at and found good
  handed_over,  ///< the owner has it back; what comes later is aftercare
  cancelled,    ///< given up, with the reason
};

/// One surface to cover.
struct ScopeItem {
  std::string panel;
  std::string film;

  friend bool operator==(const ScopeItem&, const ScopeItem&) = default;
};

struct Job {
  std::string id;  ///< "J-0001"
  std::string title;
  std::string customer;  ///< may be empty
  std::string vehicle;   ///< id of a vehicle model
  int vehicle_version = 1;
  std::vector<ScopeItem> scope;
  JobState state = JobState::scoped;
  std::int64_t revision = 1;  ///< counts every change; a stale writer is refused
  std::string created;        ///< RFC 3339, UTC

  friend bool operator==(const Job&, const Job&) = default;
};

/// Checks a job on its own: title, a scope of 1 to 1000 items, no panel covered twice.
/// Errors: invalid_input naming the field or panel.
Result<void> check(const Job& job);

/// The job's films, that of most panels first (its main film), then by id.
std::vector<std::string> films_of(const Job& job);

/// States that a person may move the job to now. The first three follow from the work itself (see
/// state_by_work); a person decides the rest:
///
///     cut_planned -> released
///     released -> installing
///     released -> scoped            with a reason: what was cut is done again
///     installing -> inspected       all pieces laid and an inspection passed, or with a reason
///     inspected -> installing       with a reason: something is mended
///     inspected -> handed_over      signed for by who receives it, or with a reason
///     any before handed_over -> cancelled   with a reason
std::vector<JobState> moves_of(const Job& job);

/// What must be there before a job moves on.
struct StepsDone {
  bool pieces = false;      ///< on every panel of the scope
  bool inspection = false;  ///< one that passed, after the last piece was laid
  bool hand_over = false;   ///< signed, after the last piece was laid
};

/// The step that a move to `to` would skip, in words; empty when none.
std::string_view skipped_step(JobState to, const StepsDone& done);

/// The job after a person's move. Errors: conflict (not one of moves_of; a required step is not
/// done and no reason says why it is skipped), invalid_input (a reason is needed and missing).
Result<Job> move(Job job, JobState to, std::string_view reason, const StepsDone& done = {});

/// Whether layouts and knife paths stand as they are: the job was released, or is cancelled.
bool is_past_planning(JobState state);

/// How much of the work is there, by film.
struct Readiness {
  std::size_t films = 0;
  std::size_t layouts = 0;
  std::size_t cuts = 0;
};

/// The state that the work itself gives an open job: laid_out and cut_planned when all films have
/// theirs, else back. A job that was released keeps its state, and so does a cancelled one.
JobState state_by_work(const Job& job, const Readiness& readiness);

/// One line of the job's history. Appended, never changed.
struct HistoryEntry {
  std::string at;  ///< RFC 3339, UTC
  std::string who;
  std::string what;    ///< "layout kept"
  std::string detail;  ///< with numbers

  friend bool operator==(const HistoryEntry&, const HistoryEntry&) = default;
};

}  // namespace film::shop
