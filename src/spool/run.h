#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace film::spool {

/// What is written down about a run before, or right after, it happens.
enum class Mark {
  opened,       ///< the line to the machine is being opened; detail: its address
  begun,        ///< the first byte of a contour may be sent from now on
  done,         ///< the machine is known to have cut the contour
  paused,       ///< a person asked for it, and the machine is idle
  interrupted,  ///< detail: why
  all_sent,     ///< to a machine that does not say what it has cut
  found_cut,    ///< a person looked: the doubtful contour is cut
  found_uncut,  ///< a person looked: it is not, or not whole, and is cut again
  finished,
  given_up,  ///< detail: why
};

/// One line of a run's journal.
struct Entry {
  Mark mark = Mark::opened;
  std::size_t contour = 0;  ///< index into CutPlan::contours, for the marks that name one
  std::string detail;

  friend bool operator==(const Entry&, const Entry&) = default;
};

/// "begun 17", "interrupted the line was lost": one line, without its end.
std::string text_of(const Entry& entry);
/// Errors: invalid_input.
Result<Entry> entry_from(std::string_view line);

enum class RunState {
  ready,    ///< nothing was sent yet
  sending,  ///< or the program ended without a word while it was
  paused,
  interrupted,
  unconfirmed,  ///< all sent; a person must say that it was cut
  finished,
  given_up,
};
std::string_view name_of(RunState state);

enum class ContourState {
  waiting,   ///< certainly not touched
  doubtful,  ///< perhaps cut, in part or whole
  cut,
};

/// A cutting run as its journal tells it. Nothing is ever assumed cut that the machine or a person
/// has not said to be; a contour that may have been touched is never sent again unasked.
class Run {
 public:
  explicit Run(std::size_t contours) : contours_(contours, ContourState::waiting) {}

  /// Takes one more entry. Errors: conflict, when it cannot follow what was before (a contour begun
  /// twice, a run opened while contours are doubtful, anything after the end); nothing changes.
  Result<void> apply(const Entry& entry);

  [[nodiscard]] RunState state() const { return state_; }
  [[nodiscard]] bool over() const {
    return state_ == RunState::finished || state_ == RunState::given_up;
  }
  /// Why it is paused, interrupted or given up.
  [[nodiscard]] const std::string& reason() const { return reason_; }
  [[nodiscard]] const std::vector<ContourState>& contours() const { return contours_; }
  [[nodiscard]] std::size_t count(ContourState state) const;
  /// Contours in that state, in cutting order.
  [[nodiscard]] std::vector<std::size_t> in(ContourState state) const;

 private:
  std::vector<ContourState> contours_;
  RunState state_ = RunState::ready;
  std::string reason_;
};

}  // namespace film::spool
