#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cutting/program.h"
#include "spool/run.h"

namespace film::spool {

/// How the machine is talked to.
struct Manners {
  bool answers = false;          ///< OA, OS and ESC.K work: one contour is under way at a time
  bool asked_for_room = false;   ///< ESC.B before each block
  std::size_t buffer_bytes = 0;  ///< of a silent machine; 0: nobody knows
  double patience = 60;          ///< seconds without a sign of life
  double cut_speed = 400;        ///< mm/s, for how long a contour may take
};

/// What the sender needs done next.
struct Need {
  enum class What {
    note,   ///< `entry` must be on the disk before anything else is done
    write,  ///< some of `bytes`
    wait,   ///< for an answer, until `until` at the latest
    drain,  ///< what was written must leave this machine, until `until` at the latest
    ended,
  };
  What what = What::ended;
  Entry entry;
  std::string_view bytes;  ///< valid until the sender is told something
  double until = 0;
};

/// The conversation with a machine that cuts a program, as a pure state machine: no line, no clock,
/// no disk. The caller does what `need` says and tells how it went; times are seconds of any steady
/// clock.
///
/// A machine that answers is sent one contour at a time, followed by PU and OA (output actual
/// position). Instructions are obeyed in order, so its answer, from where the contour ends, says
/// that the contour is cut; only then is the next one begun. Whatever happens, at most one contour
/// is in doubt. A silent machine is sent everything as fast as it takes it; a contour counts as
/// cut when `buffer_bytes` more have been taken, the rest is in doubt. docs/algorithms/spooler.md.
class Sender {
 public:
  Sender(cutting::CutProgram program, std::string address, const Manners& manners);

  Need need(double now);
  void noted();
  void wrote(std::size_t count, double now);
  /// `unsent` bytes of what was written have not left this machine yet.
  void still_here(std::size_t unsent, double now);
  void heard(std::string_view bytes, double now);
  /// The line is gone, or must be given up for another reason. The reason goes to the journal.
  void lost(const std::string& why);
  /// Stops at the end of the contour that is being cut.
  void pause() { pausing_ = true; }

 private:
  enum class Stage { open, greet, opening, choose, begun, part, closing, last, ended };
  enum class Answer { none, status, position, room };

  void advance(double now);
  void choose(double now);
  void say(std::string bytes, Answer answer, double allowed, double now);
  void finish_with(Mark mark, std::string detail);
  std::optional<Need> talk(double now);
  void take(const std::vector<long>& numbers, double now);
  void settle_passed();

  cutting::CutProgram program_;
  std::string address_;
  Manners manners_;

  Stage stage_ = Stage::open;
  std::size_t next_ = 0;       // part
  std::optional<Entry> note_;  // to be written down
  std::deque<Entry> passed_;   // contours of a silent machine now known to be cut
  bool pausing_ = false;
  bool draining_ = false;

  std::string pending_;            // to be written
  Answer awaited_ = Answer::none;  // once pending_ is written
  std::optional<formats::HpglPoint> expected_;
  double allowed_ = 0;  // seconds for the answer
  double deadline_ = 0;
  std::optional<double> ask_again_;
  bool asking_again_ = false;
  std::optional<formats::HpglPoint> seen_;  // where the machine says it is, when not as expected
  std::string input_;                       // an answer that is not whole yet

  std::string question_;  // ESC.B on its way
  bool room_asked_ = false;
  std::size_t room_ = 0;

  std::size_t written_ = 0;  // in all
  std::size_t unsent_ = 0;
  std::deque<std::pair<std::size_t, std::size_t>> sent_;  // contour, written_ at its end
};

}  // namespace film::spool
