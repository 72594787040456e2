#include "planning/work_line.h"

#include <algorithm>
#include <utility>

namespace film::planning {

WorkLine::WorkLine(std::vector<Span> spans) {
  for (const Span& span : spans) {
    if (span.until <= span.from) continue;
    if (!spans_.empty() && spans_.back().until >= span.from) {
      spans_.back().until = std::max(spans_.back().until, span.until);
    } else {
      spans_.push_back(span);
    }
  }
  done_.push_back(0);
  for (const Span& span : spans_) done_.push_back(done_.back() + span.until - span.from);
}

Time WorkLine::before(Time t) const {
  const auto next = std::partition_point(spans_.begin(), spans_.end(),
                                         [t](const Span& span) { return span.until <= t; });
  const auto index = static_cast<std::size_t>(next - spans_.begin());
  if (next == spans_.end()) return spans_.empty() ? 0 : done_[index];
  return done_[index] + std::max(0, t - next->from);
}

Time WorkLine::step_of(Time k) const {
  const auto next = std::upper_bound(done_.begin(), done_.end(), k);
  const auto index = static_cast<std::size_t>(next - done_.begin()) - 1;
  return spans_[index].from + k - done_[index];
}

Time WorkLine::work_between(Time from, Time until) const {
  return until <= from ? 0 : before(until) - before(from);
}

std::optional<Span> WorkLine::fit(Time from, Time work, Pause pause) const {
  if (spans_.empty()) return std::nullopt;
  if (pause == Pause::at_breaks) {
    const Time done = before(from);
    if (done + work > done_.back()) return std::nullopt;
    return Span{step_of(done), step_of(done + work - 1) + 1};
  }
  auto span = std::partition_point(spans_.begin(), spans_.end(),
                                   [from](const Span& s) { return s.until <= from; });
  for (; span != spans_.end(); ++span) {
    const Time start = std::max(from, span->from);
    if (span->until - start >= work) return Span{start, start + work};
  }
  return std::nullopt;
}

std::optional<Time> WorkLine::latest_start(Time until, Time work, Pause pause) const {
  if (spans_.empty()) return std::nullopt;
  if (pause == Pause::at_breaks) {
    const Time done = before(until);
    if (done < work) return std::nullopt;
    return step_of(done - work);
  }
  auto span = std::partition_point(spans_.begin(), spans_.end(),
                                   [until](const Span& s) { return s.from < until; });
  while (span != spans_.begin()) {
    --span;
    const Time end = std::min(until, span->until);
    if (end - span->from >= work) return end - work;
  }
  return std::nullopt;
}

WorkLine common(const WorkLine& a, const WorkLine& b) {
  std::vector<Span> both;
  auto x = a.spans().begin();
  auto y = b.spans().begin();
  while (x != a.spans().end() && y != b.spans().end()) {
    both.push_back({std::max(x->from, y->from), std::min(x->until, y->until)});
    if (x->until < y->until) {
      ++x;
    } else {
      ++y;
    }
  }
  return WorkLine(std::move(both));
}

WorkLine on_steps(const WorkingTime& time, Instant origin, std::chrono::minutes step) {
  std::vector<Span> spans;
  const auto length = step.count();
  for (const Stretch& part : time) {
    const auto from = std::max<long>(0, (part.from - origin).count());
    const auto until = (part.until - origin).count();
    if (until <= from) continue;
    spans.push_back(
        {static_cast<Time>((from + length - 1) / length), static_cast<Time>(until / length)});
  }
  return WorkLine(std::move(spans));
}

}  // namespace film::planning
