#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <unordered_map>
#include <utility>
#include <vector>

#include "base/context.h"
#include "base/rng.h"
#include "planning/detail/instance.h"

namespace film::planning::detail {

/// Conflict-driven search over start times.
///
/// Every whole-number variable x (a start, the end of the plan, or the order of two tasks that
/// exclude each other) has two *sides*: 2x, whose bound is the least value of x, and 2x + 1, whose
/// bound is the least value of -x. A *literal* [side >= bound] is the only kind of fact; its
/// opposite is [other side >= 1 - bound]. Propagation raises bounds and remembers why; a dead end
/// is traced back to a nogood, a set of literals that never hold together, which then propagates
/// like everything else.
///
/// Source: O. Ohrimenko, P. Stuckey, M. Codish, "Propagation via lazy clause generation",
/// Constraints 14, 2009; A. Schutt, T. Feydy, P. Stuckey, M. Wallace, "Explaining the cumulative
/// propagator", Constraints 16, 2011, and "Solving RCPSP/max by lazy clause generation", Journal
/// of Scheduling 16, 2013. Differences: literals are kept as bounds and never turned into Boolean
/// variables; one dense profile holds all resources.
class Engine {
 public:
  /// A further lag that holds in this search only.
  struct Tie {
    std::size_t from = 0;
    std::size_t to = 0;
    Time least = 0;
  };

  /// `instance` must outlive the engine.
  Engine(const Instance& instance, const std::vector<Tie>& ties, std::uint64_t seed);

  enum class Outcome {
    solved,     ///< a plan was found; `starts` returns it
    exhausted,  ///< no plan ends by the limit: proven
    paused,     ///< the budget ran out, or the context said stop
  };

  /// The plan must end by `end`. Only ever tightened.
  void limit_end(Time end);
  /// Values to try first: those of a good plan.
  void follow(const std::vector<Time>& starts);

  /// Searches on until `work` units are spent. With `hopeful` set it first asks for a plan that
  /// ends at the proven lower bound, which raises the bound when there is none.
  Outcome search(std::int64_t work, bool hopeful, const Context& context);

  [[nodiscard]] const std::vector<Time>& starts() const { return solution_; }
  /// Proven: no plan within the ties ends sooner.
  [[nodiscard]] Time lower_bound() const { return root_bound_; }
  [[nodiscard]] std::int64_t conflicts() const { return conflicts_; }

 private:
  using Side = std::int32_t;
  struct Literal {
    Side side = 0;
    Time bound = 0;
  };
  enum class Why : std::int8_t { decision, nogood, link, literals };
  struct Reason {
    Why why = Why::decision;
    std::int32_t first = 0;  // nogood or link index, or where its literals begin
    std::int32_t count = 0;
  };
  struct Entry {
    Side side = 0;
    Time old_bound = 0;
    Time new_bound = 0;
    std::int32_t previous = -1;  // the entry before it on the same side
    Reason reason;
  };
  // bound(to) >= bound(from) + least, when the guard holds (guard.side < 0: always).
  struct Link {
    Side from = 0;
    Side to = 0;
    Time least = 0;
    Literal guard{-1, 0};
  };
  struct Nogood {
    std::vector<Literal> literals;
    float activity = 0;
    std::int32_t levels = 0;
  };
  struct Watch {
    Time bound = 0;
    std::int32_t nogood = 0;
  };
  struct Atom {  // a literal worth deciding on
    std::int32_t variable = 0;
    Time value = 0;  // [x >= value]
    double activity = 0;
    std::int32_t place = -1;  // in the heap
  };

  [[nodiscard]] bool holds(Literal l) const {
    return bound_[static_cast<std::size_t>(l.side)] >= l.bound;
  }
  static Literal opposite(Literal l) { return {l.side ^ 1, 1 - l.bound}; }
  [[nodiscard]] Time low(std::size_t x) const { return bound_[2 * x]; }
  [[nodiscard]] Time high(std::size_t x) const { return -bound_[2 * x + 1]; }

  std::int32_t new_variable(Time low, Time high);
  void add_link(const Link& link);
  void link_starts(std::size_t from, std::size_t to, Time least, Literal guard = {-1, 0});
  void order_excluding_pairs();

  // Each returns false on a conflict, whose literals are then in conflict_.
  bool raise(Side side, Time bound, Reason reason);
  bool propagate();
  bool propagate_links(const Entry& entry);
  bool propagate_link(std::int32_t index);
  bool propagate_nogoods(const Entry& entry);
  bool sync_part(std::size_t task);
  bool filter_profile();
  bool filter_task(std::size_t task);

  void shrink_part(std::size_t task);
  void explain_overload(Time t, std::size_t spare);
  Reason keep_literals();

  void collect_reason(const Entry& entry, Time needed, std::vector<Literal>& out) const;
  [[nodiscard]] std::int32_t entry_making(Literal l) const;
  [[nodiscard]] std::int32_t level_of(std::int32_t entry) const;
  bool resolve_conflict();  // learns and jumps back; false: proven at the root
  void require(Literal l);
  bool is_implied(Literal l);
  void learn();
  void watch(std::int32_t index);
  void forget_nogoods();
  void undo_to(std::size_t level);

  bool decide(bool hopeful);
  bool decide_on_atom();
  bool decide_on_start();
  void begin_level(Literal decision);
  void bump(Literal l);
  void heap_up(std::int32_t place);
  std::int32_t heap_pop();
  void heap_insert(std::int32_t index);
  void keep_solution();

  const Instance& instance_;
  Rng rng_;
  std::size_t end_ = 0;  // variable: when the plan ends

  std::vector<Time> bound_;
  std::vector<std::int32_t> last_;  // entry that set the bound; -1: initial
  std::vector<Entry> trail_;
  std::vector<std::size_t> level_begin_;
  std::vector<Literal> reasons_;
  std::size_t next_entry_ = 0;

  std::vector<Link> links_;
  std::vector<std::vector<std::int32_t>> links_from_;
  std::vector<std::vector<std::int32_t>> links_guarded_;

  std::vector<Nogood> nogoods_;
  std::vector<std::vector<Watch>> watches_;
  float nogood_step_ = 1;
  std::size_t most_nogoods_ = 4000;

  // The profile: what the certain parts [latest start, earliest end) leave free.
  std::vector<Packed> free_;
  std::vector<Time> part_begin_, part_end_;
  std::vector<std::vector<std::size_t>> users_;  // of each resource

  std::vector<Literal> conflict_;
  std::vector<Literal> learnt_;
  std::vector<Literal> scratch_;
  std::vector<std::int32_t> levels_;
  std::vector<std::size_t> touched_;
  std::vector<std::pair<std::int32_t, std::size_t>> running_;
  std::vector<Time> needed_;  // per side, during conflict analysis
  std::vector<Side> needed_sides_;
  std::int32_t at_level_ = 0;

  std::vector<Atom> atoms_;
  std::unordered_map<std::uint64_t, std::int32_t> atom_index_;
  std::vector<std::int32_t> heap_;
  std::vector<std::pair<std::size_t, std::int32_t>> popped_;
  double atom_step_ = 1;
  std::vector<Time> wish_;  // values to try first

  std::vector<Time> solution_;
  Time root_bound_ = 0;
  std::int64_t conflicts_ = 0;
  std::int64_t work_ = 0;
  std::int64_t restarts_ = 0;
  bool closed_ = false;
};

}  // namespace film::planning::detail
