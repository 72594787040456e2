#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "base/rng.h"
#include "planning/shop_model.h"

namespace film::planning::detail {

/// What is taken of one person, bay or plotter: disjoint spans, rising.
class Taken {
 public:
  /// The end of the first taken span that meets this one; nothing when it is free.
  [[nodiscard]] std::optional<Time> blocked(const Span& span) const;
  /// The first end of a taken span after t.
  [[nodiscard]] Time next_end(Time t) const;
  void add(const Span& span);
  /// Adds what may meet other spans, for good.
  void cover(Span span);
  void remove(const Span& span);

 private:
  std::vector<Span> spans_;
};

/// A plan in the making: jobs are put on it and taken off, one at a time.
class Board {
 public:
  Board(const Shop& shop, const std::vector<Job>& jobs, Time now);

  [[nodiscard]] const ShopPlan& plan() const { return plan_; }

  /// Serial schedule generation for one job: each task in its order as soon as people, plotter, bay
  /// and lags allow, nothing before `release`; by whoever is done first, of those by whoever can do
  /// the fewest other things. With `luck` some tasks wait a little and some people count as slower,
  /// so that a search comes to plans that greed alone never makes. With `stay`, a task that can
  /// stand where that plan has it does. False when there is no room.
  bool place(std::size_t job, Time release, Rng* luck = nullptr, const JobPlan* stay = nullptr);
  /// Puts the job where another plan has it, if it still may stand there.
  bool keep(std::size_t job, const JobPlan& where);
  /// Puts a job back where it stood before on a board with the same others.
  void put(std::size_t job, const JobPlan& where);
  void remove(std::size_t job);

 private:
  struct Attempt;
  enum class Outcome { laid, again, none };

  Outcome lay(std::size_t job, Attempt& attempt);
  Outcome house(std::size_t job, Attempt& attempt);
  std::optional<Slot> find(const Job& job, const Attempt& attempt, std::size_t task, Time ready);
  [[nodiscard]] bool can_stand(const Job& job, const Attempt& attempt, std::size_t task, Time ready,
                               const Slot& slot);
  std::optional<Slot> fit_crew(const ShopTask& task, const std::vector<std::size_t>& people,
                               Time ready, const Job& job, const Attempt& attempt);
  std::optional<Time> crowded(const Job& job, const Attempt& attempt, const Span& span,
                              std::size_t more) const;
  const WorkLine& line_of(const std::vector<std::size_t>& people);
  void occupy(std::size_t job, const JobPlan& where, bool taken);
  /// The end of the first stay in the bay that the hold meets. Vehicles that both stand in a bay
  /// are a fact: they do not keep one another out.
  [[nodiscard]] std::optional<Time> occupied(std::size_t bay, const Span& hold, bool begun) const;
  [[nodiscard]] Time next_leaving(std::size_t bay, Time t, bool begun) const;

  const Shop& shop_;
  const std::vector<Job>& jobs_;
  Time now_;
  ShopPlan plan_;
  std::vector<std::vector<std::size_t>> order_;
  std::vector<Taken> people_;
  std::vector<Taken> bays_;               // by stages that have not begun
  std::vector<std::vector<Span>> begun_;  // of each bay: by those that have
  Taken plotter_;
  std::vector<std::optional<WorkLine>> pairs_;
  std::vector<std::size_t> breadth_;  // of each person: how many skills
};

}  // namespace film::planning::detail
