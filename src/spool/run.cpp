#include "spool/run.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>

#include "base/text.h"

namespace film::spool {
namespace {

struct MarkForm {
  Mark mark;
  std::string_view name;
  bool names_contour;
};

constexpr std::array<MarkForm, 10> kForms{{{Mark::opened, "opened", false},
                                           {Mark::begun, "begun", true},
                                           {Mark::done, "done", true},
                                           {Mark::paused, "paused", false},
                                           {Mark::interrupted, "interrupted", false},
                                           {Mark::all_sent, "all_sent", false},
                                           {Mark::found_cut, "found_cut", true},
                                           {Mark::found_uncut, "found_uncut", true},
                                           {Mark::finished, "finished", false},
                                           {Mark::given_up, "given_up", false}}};

const MarkForm& form_of(Mark mark) { return kForms[static_cast<std::size_t>(mark)]; }

Failure bad_line(std::string_view line) {
  return fail(ErrorCode::invalid_input, "a journal has a line that cannot be read",
              std::string(line.substr(0, 60)), "Restore the journal from a copy");
}

}  // namespace

std::string text_of(const Entry& entry) {
  const MarkForm& form = form_of(entry.mark);
  std::string line(form.name);
  if (form.names_contour) line += format(" {}", entry.contour);
  if (!entry.detail.empty()) line += " " + entry.detail;
  std::replace_if(
      line.begin(), line.end(), [](char c) { return c == '\n' || c == '\r'; }, ' ');
  return line;
}

Result<Entry> entry_from(std::string_view line) {
  const std::string_view name = line.substr(0, line.find(' '));
  const auto* form =
      std::find_if(kForms.begin(), kForms.end(), [&](const MarkForm& f) { return f.name == name; });
  if (form == kForms.end()) return bad_line(line);
  Entry entry{form->mark, 0, {}};
  std::string_view rest = line.substr(std::min(line.size(), name.size() + 1));
  if (form->names_contour) {
    const auto [end, error] =
        std::from_chars(rest.data(), rest.data() + rest.size(), entry.contour);
    if (error != std::errc{}) return bad_line(line);
    rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
    if (!rest.empty() && rest.front() != ' ') return bad_line(line);
    rest.remove_prefix(std::min<std::size_t>(rest.size(), 1));
  }
  entry.detail = rest;
  return entry;
}

std::string_view name_of(RunState state) {
  switch (state) {
    case RunState::ready: return "ready";
    case RunState::sending: return "sending";
    case RunState::paused: return "paused";
    case RunState::interrupted: return "interrupted";
    case RunState::unconfirmed: return "unconfirmed";
    case RunState::finished: return "finished";
    case RunState::given_up: return "given_up";
  }
  return "";
}

std::size_t Run::count(ContourState state) const {
  return static_cast<std::size_t>(std::count(contours_.begin(), contours_.end(), state));
}

std::vector<std::size_t> Run::in(ContourState state) const {
  std::vector<std::size_t> found;
  for (std::size_t k = 0; k < contours_.size(); ++k) {
    if (contours_[k] == state) found.push_back(k);
  }
  return found;
}

Result<void> Run::apply(const Entry& entry) {
  const auto refuse = [&](const std::string& why) {
    return fail(ErrorCode::conflict, why, text_of(entry));
  };
  if (over()) return refuse("the run is over");
  const MarkForm& form = form_of(entry.mark);
  if (form.names_contour && entry.contour >= contours_.size()) {
    return refuse(format("the run has only {} contours", contours_.size()));
  }
  ContourState* const contour = form.names_contour ? &contours_[entry.contour] : nullptr;
  const bool sending = state_ == RunState::sending;
  switch (entry.mark) {
    case Mark::opened:
      if (count(ContourState::doubtful) > 0) {
        return refuse("somebody must first say which of the doubtful contours are cut");
      }
      state_ = RunState::sending;
      reason_.clear();
      return {};
    case Mark::begun:
      if (!sending) return refuse("the run is not being sent");
      if (*contour != ContourState::waiting) return refuse("the contour was begun before");
      *contour = ContourState::doubtful;
      return {};
    case Mark::done:
      if (!sending || *contour != ContourState::doubtful) return refuse("it is not being cut");
      *contour = ContourState::cut;
      return {};
    case Mark::paused:
    case Mark::interrupted:
      if (!sending) return refuse("the run is not being sent");
      state_ = entry.mark == Mark::paused ? RunState::paused : RunState::interrupted;
      reason_ = entry.detail;
      return {};
    case Mark::all_sent:
      if (!sending || count(ContourState::waiting) > 0) return refuse("contours are waiting");
      state_ = RunState::unconfirmed;
      return {};
    case Mark::found_cut:
    case Mark::found_uncut:
      if (*contour != ContourState::doubtful) return refuse("the contour is not doubtful");
      *contour = entry.mark == Mark::found_cut ? ContourState::cut : ContourState::waiting;
      // What was all sent is so no more when some of it must be cut again.
      if (sending || (state_ == RunState::unconfirmed && entry.mark == Mark::found_uncut)) {
        state_ = RunState::interrupted;
      }
      return {};
    case Mark::finished:
      if (count(ContourState::cut) != contours_.size()) return refuse("not everything is cut");
      state_ = RunState::finished;
      reason_.clear();
      return {};
    case Mark::given_up:
      state_ = RunState::given_up;
      reason_ = entry.detail;
      return {};
  }
  return {};
}

}  // namespace film::spool
