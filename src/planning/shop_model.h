#pragma once

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/zone.h"
#include "planning/work_line.h"

namespace film::planning {

/// Somebody who works. A level of 0 or a missing entry: not that skill.
struct Person {
  std::string id;
  std::vector<int> levels;  ///< by skill of the shop
  WorkLine hours;
  friend bool operator==(const Person&, const Person&) = default;
};

/// A place for one vehicle, day and night.
struct Bay {
  std::string id;
  std::vector<std::size_t> features;  ///< of the shop's list
  friend bool operator==(const Bay&, const Bay&) = default;
};

/// Who and what there is. One plotter. Times are steps from `origin`.
struct Shop {
  Instant origin;
  std::chrono::minutes step{5};
  Zone zone;                          ///< for times in words
  std::vector<std::string> skills;    ///< "install film", "correct paint"
  std::vector<std::string> features;  ///< "clean", "heated", "lift"
  std::vector<Person> people;
  std::vector<Bay> bays;
  Time move = 3;  ///< steps to bring a vehicle from one bay to another
  int crowd = 2;  ///< people at one vehicle at a time, at most
  friend bool operator==(const Shop&, const Shop&) = default;
};

/// One pair of hands that a task needs.
struct Hand {
  std::size_t skill = 0;
  int level = 1;  ///< at least
  friend bool operator==(const Hand&, const Hand&) = default;
};

/// What a task of a plan takes.
struct Slot {
  Span span;
  std::vector<std::size_t> people;  ///< in the order of the task's hands
  friend bool operator==(const Slot&, const Slot&) = default;
};

/// A step of a job. With hands its work runs while all of them are on shift; without, it is a
/// wait (drying, curing) that runs by the clock.
struct ShopTask {
  std::string id;
  Time work = 0;            ///< steps, 1 or more
  double spread = 0;        ///< standard deviation over mean of its duration
  std::vector<Hand> hands;  ///< none, one or two different people
  Pause pause = Pause::at_breaks;
  bool plotter = false;
  std::optional<std::size_t> stage;  ///< of the job; nothing: the vehicle is not needed
  std::optional<Slot> fixed;         ///< started or done: a fact, not held against the rules
  friend bool operator==(const ShopTask&, const ShopTask&) = default;
};

/// start(to) is `least` to `most` steps after end(from), by the clock.
struct After {
  std::size_t from = 0;
  std::size_t to = 0;
  Time least = 0;
  Time most = kNever;
  friend bool operator==(const After&, const After&) = default;
};

/// A part of a job that is done in one bay, which the vehicle holds from the start of its first
/// task to the end of its last, waits and nights included. Stages follow one another in order.
struct Stage {
  std::vector<std::size_t> features;  ///< the bay has them all
  std::optional<std::size_t> bay;     ///< already there
  friend bool operator==(const Stage&, const Stage&) = default;
};

/// Work on one vehicle.
struct Job {
  std::string id;
  Time arrives = 0;
  Time promise = kNever;  ///< all is done by then; kNever: nothing was promised
  double weight = 1;
  std::vector<ShopTask> tasks;
  std::vector<After> afters;
  std::vector<Stage> stages;  ///< each with at least one task
  friend bool operator==(const Job&, const Job&) = default;
};

/// When and by whom each task of a job is done, and the bay of each stage. Without slots: not
/// planned.
struct JobPlan {
  std::vector<Slot> slots;
  std::vector<std::size_t> bays;
  [[nodiscard]] Time end() const;  ///< of the last task; kNever when not planned
  friend bool operator==(const JobPlan&, const JobPlan&) = default;
};

/// In the order of the jobs.
using ShopPlan = std::vector<JobPlan>;

/// The first thing that makes shop or jobs meaningless, if any (invalid_input), with the tasks
/// involved: afters that go round in a circle, hands that nobody has, three hands or more, a bay
/// that does not exist, work of no length, a promise before now.
std::optional<Error> fault_of(const Shop& shop, const std::vector<Job>& jobs, Time now);

/// Whether the person can be that hand.
bool can(const Person& person, const Hand& hand);
/// Whether the bay has what the stage needs and is the one it is bound to, if any.
bool suits(const Shop& shop, std::size_t bay, const Stage& stage);
/// The span of a stage in a plan: from the start of its first task to the end of its last.
Span hold_of(const Job& job, const std::vector<Slot>& slots, std::size_t stage);
/// Whether a task of the stage has begun: the vehicle stands in its bay, a fact.
bool has_begun(const Job& job, std::size_t stage);
/// Tasks so that each comes after those it waits for, stages in order, those with the longest way
/// to go first. Empty when the afters go round in a circle.
std::vector<std::size_t> work_order(const Job& job);
/// "Wed 06-03 17:00" on the shop's wall clock.
std::string when(const Shop& shop, Time t);
/// "2 h 30 min".
std::string hours(const Shop& shop, Time steps);

}  // namespace film::planning
