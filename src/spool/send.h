#pragma once

#include <functional>

#include "base/result.h"
#include "spool/journal.h"
#include "spool/line.h"
#include "spool/sender.h"

namespace film::spool {

/// What a person wants of a run that is being sent.
enum class Wish {
  go_on,
  pause,    ///< at the end of the contour
  abandon,  ///< the line at once: the program must end; what is under way is in doubt
};

struct Control {
  std::function<Wish()> wish;             ///< asked a few times a second
  std::function<void(const Run&)> heard;  ///< called after each entry
};

/// Sends the program down the line until the sender has ended, and keeps `run` and the journal in
/// step. When it returns, `run` says how it went: finished, paused, interrupted or unconfirmed.
/// Errors: what the journal fails with (a full disk). Nothing is sent past an entry that could not
/// be written; `run` is then as the journal has it.
Result<void> send(Sender& sender, Line& line, Journal& journal, Run& run, const Control& control);

}  // namespace film::spool
