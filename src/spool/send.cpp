#include "spool/send.h"

#include <algorithm>

#include "host/stop.h"

namespace film::spool {
namespace {

constexpr double kLongestWait = 0.05;  // seconds until the wish is asked again

}  // namespace

Result<void> send(Sender& sender, Line& line, Journal& journal, Run& run, const Control& control) {
  const host::Stopwatch watch;
  for (;;) {
    if (control.wish) {
      const Wish wish = control.wish();
      if (wish == Wish::pause) sender.pause();
      if (wish == Wish::abandon) sender.lost("the program was asked to end");
    }
    const double now = watch.seconds();
    const Need need = sender.need(now);
    if (need.what == Need::What::ended) return {};
    if (need.what == Need::What::note) {
      Run next = run;
      if (auto sound = next.apply(need.entry); !sound) return sound;
      if (auto kept = journal.note(need.entry); !kept) return kept;
      run = std::move(next);
      sender.noted();
      if (control.heard) control.heard(run);
      continue;
    }
    std::string input;
    const bool writes = need.what == Need::What::write;
    const auto wrote = line.exchange(writes ? need.bytes : std::string_view{}, input,
                                     std::clamp(need.until - now, 0.0, kLongestWait));
    const double then = watch.seconds();
    if (!wrote) {
      sender.lost(wrote.error().what);
      continue;
    }
    if (!input.empty()) sender.heard(input, then);
    if (*wrote > 0) sender.wrote(*wrote, then);
    sender.still_here(line.unsent(), then);
  }
}

}  // namespace film::spool
