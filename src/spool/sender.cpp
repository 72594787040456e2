#include "spool/sender.h"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <cstdlib>
#include <utility>

#include "base/text.h"

namespace film::spool {
namespace {

// ESC.K drops half an instruction that a broken connection left behind, and what waits after it.
constexpr std::string_view kGreeting = "\x1b.KPU;OS;\n";
constexpr std::string_view kWhereNow = "OA;\n";
constexpr std::string_view kLiftAndSay = "PU;\nOA;\n";
constexpr std::string_view kRoomQuestion = "\x1b.B";
constexpr double kGreetingSeconds = 10;
constexpr double kAskAgain = 0.1;   // seconds
constexpr double kSlowness = 4;     // a contour may take this much longer than at its set speed
constexpr std::size_t kSpared = 8;  // bytes of the machine's room that are left alone
constexpr std::size_t kLongestAnswer = 200;

/// The whole numbers of an answer; empty when it is something else.
std::vector<long> numbers_in(std::string_view line) {
  std::vector<long> numbers;
  const char* at = line.data();
  const char* const end = at + line.size();
  while (at < end) {
    while (at < end && (*at == ' ' || *at == '+')) ++at;
    long value = 0;
    const auto [next, error] = std::from_chars(at, end, value);
    if (error != std::errc{}) return {};
    numbers.push_back(value);
    at = next;
    while (at < end && *at == ' ') ++at;
    if (at < end && *at++ != ',') return {};
  }
  return numbers;
}

}  // namespace

Sender::Sender(cutting::CutProgram program, std::string address, const Manners& manners)
    : program_(std::move(program)), address_(std::move(address)), manners_(manners) {}

Need Sender::need(double now) {
  for (;;) {
    if (!passed_.empty()) return {Need::What::note, passed_.front(), {}, 0};
    if (note_) return {Need::What::note, *note_, {}, 0};
    if (stage_ == Stage::ended) return {};
    if (const auto talking = talk(now)) return *talking;
    if (note_) continue;
    if (draining_) {
      if (now < deadline_) return {Need::What::drain, {}, {}, deadline_};
      lost("the machine stopped taking what it is sent");
      continue;
    }
    advance(now);
  }
}

/// What is being said or awaited; nothing when the conversation may go on.
std::optional<Need> Sender::talk(double now) {
  if (pending_.empty() && awaited_ == Answer::none) return std::nullopt;
  if (now >= deadline_) {
    lost(!pending_.empty() ? "the machine takes no more"
         : seen_           ? format("the machine stands at ({}, {}), not where the contour ends at "
                                              "({}, {})",
                                    seen_->x, seen_->y, expected_->x, expected_->y)
                           : "the machine does not answer");
    return std::nullopt;
  }
  if (!question_.empty()) return Need{Need::What::write, {}, question_, deadline_};
  if (!pending_.empty()) {
    if (!manners_.asked_for_room) return Need{Need::What::write, {}, pending_, deadline_};
    if (room_ > 0) {
      return Need{Need::What::write, {}, std::string_view(pending_).substr(0, room_), deadline_};
    }
    if (!room_asked_ && now >= ask_again_.value_or(now)) {
      question_ = kRoomQuestion;
      room_asked_ = true;
      ask_again_.reset();
      return Need{Need::What::write, {}, question_, deadline_};
    }
    return Need{Need::What::wait, {}, {}, std::min(deadline_, ask_again_.value_or(deadline_))};
  }
  if (ask_again_ && now >= *ask_again_) {
    ask_again_.reset();
    asking_again_ = true;
    pending_ = kWhereNow;
    return talk(now);
  }
  return Need{Need::What::wait, {}, {}, std::min(deadline_, ask_again_.value_or(deadline_))};
}

void Sender::say(std::string bytes, Answer answer, double allowed, double now) {
  pending_ = std::move(bytes);
  awaited_ = answer;
  allowed_ = allowed;
  deadline_ = now + allowed;
  ask_again_.reset();
  asking_again_ = false;
  seen_.reset();
}

void Sender::advance(double now) {
  switch (stage_) {
    case Stage::open:
      note_ = Entry{Mark::opened, 0, address_};
      stage_ = Stage::greet;
      return;
    case Stage::greet:
      stage_ = Stage::opening;
      if (manners_.answers) {
        say(std::string(kGreeting), Answer::status, std::min(manners_.patience, kGreetingSeconds),
            now);
      }
      return;
    case Stage::opening: {
      stage_ = Stage::choose;
      if (program_.parts.empty()) return;
      const bool asks = manners_.answers && program_.aligns;
      expected_ = program_.aligned;
      say(program_.opening + (asks ? std::string(kLiftAndSay) : ""),
          asks ? Answer::position : Answer::none, manners_.patience, now);
      return;
    }
    case Stage::choose: choose(now); return;
    case Stage::begun: {
      const cutting::CutPart& part = program_.parts[next_];
      stage_ = Stage::part;
      expected_ = part.end;
      say(part.bytes + (manners_.answers ? std::string(kLiftAndSay) : ""),
          manners_.answers ? Answer::position : Answer::none,
          manners_.patience + kSlowness * part.cut_mm / manners_.cut_speed, now);
      return;
    }
    case Stage::part: {
      const std::size_t contour = program_.parts[next_++].contour;
      stage_ = Stage::choose;
      if (manners_.answers) {
        note_ = Entry{Mark::done, contour, {}};
      } else {
        sent_.push_back({contour, written_});
        settle_passed();
      }
      return;
    }
    case Stage::closing:
      stage_ = Stage::last;
      draining_ = true;
      deadline_ = now + manners_.patience;
      return;
    case Stage::last: {
      const bool rest = next_ < program_.parts.size();
      const Mark mark = rest ? Mark::paused : manners_.answers ? Mark::finished : Mark::all_sent;
      const bool nothing_was_left = program_.parts.empty();
      finish_with(nothing_was_left ? Mark::finished : mark, rest ? "as asked" : "");
      return;
    }
    case Stage::ended: return;
  }
}

void Sender::choose(double now) {
  if (next_ < program_.parts.size() && pausing_) {
    stage_ = Stage::closing;
    // The knife is lifted, and a silent machine acts on the last instruction only at the next.
    say("PU;\n", Answer::none, manners_.patience, now);
  } else if (next_ < program_.parts.size()) {
    stage_ = Stage::begun;
    note_ = Entry{Mark::begun, program_.parts[next_].contour, {}};
  } else {
    stage_ = Stage::closing;
    say(program_.closing, Answer::none, manners_.patience, now);
  }
}

void Sender::finish_with(Mark mark, std::string detail) {
  pending_.clear();
  question_.clear();
  awaited_ = Answer::none;
  draining_ = false;
  ask_again_.reset();
  note_ = Entry{mark, 0, std::move(detail)};
  stage_ = Stage::ended;
}

void Sender::noted() {
  if (!passed_.empty()) {
    passed_.pop_front();
  } else {
    note_.reset();
  }
}

void Sender::lost(const std::string& why) {
  if (stage_ == Stage::ended) return;
  finish_with(Mark::interrupted, why);
}

void Sender::wrote(std::size_t count, double now) {
  if (!question_.empty()) {
    question_.erase(0, count);
    if (question_.empty()) input_.clear();
  } else {
    pending_.erase(0, count);
    written_ += count;
    room_ -= std::min(room_, count);
    // Answers to earlier questions must not pass for the answer to this one.
    if (pending_.empty()) input_.clear();
  }
  if (count > 0 && !asking_again_) deadline_ = now + allowed_;
}

void Sender::still_here(std::size_t unsent, double now) {
  if (unsent < unsent_ && draining_) deadline_ = now + manners_.patience;
  unsent_ = unsent;
  settle_passed();
  if (unsent == 0) draining_ = false;
}

void Sender::settle_passed() {
  if (manners_.answers || manners_.buffer_bytes == 0) return;
  const std::size_t taken = written_ - std::min(written_, unsent_);
  while (!sent_.empty() && taken >= sent_.front().second + manners_.buffer_bytes) {
    passed_.push_back({Mark::done, sent_.front().first, {}});
    sent_.pop_front();
  }
}

void Sender::heard(std::string_view bytes, double now) {
  const bool listens = room_asked_ || (pending_.empty() && awaited_ != Answer::none);
  if (!listens) return;
  for (const char c : bytes) {
    if (c != '\r' && c != '\n') {
      if (input_.size() < kLongestAnswer) input_ += c;
      continue;
    }
    const auto numbers = numbers_in(std::exchange(input_, {}));
    if (!numbers.empty()) take(numbers, now);
  }
}

void Sender::take(const std::vector<long>& numbers, double now) {
  if (room_asked_ && numbers.size() == 1) {
    room_asked_ = false;
    const auto room = static_cast<std::size_t>(std::max(0L, numbers[0]));
    room_ = room > kSpared ? room - kSpared : 0;
    if (room_ == 0) ask_again_ = now + kAskAgain;
    deadline_ = now + allowed_;
  } else if (awaited_ == Answer::status && pending_.empty() && numbers.size() == 1) {
    awaited_ = Answer::none;
  } else if (awaited_ == Answer::position && pending_.empty() && numbers.size() >= 2) {
    const formats::HpglPoint at{static_cast<std::int32_t>(numbers[0]),
                                static_cast<std::int32_t>(numbers[1])};
    if (std::abs(at.x - expected_->x) <= 1 && std::abs(at.y - expected_->y) <= 1) {
      awaited_ = Answer::none;
      return;
    }
    // Still on its way, or not where it should be: in that case patience runs out.
    if (seen_ != at) deadline_ = now + allowed_;
    seen_ = at;
    ask_again_ = now + kAskAgain;
  }
}

}  // namespace film::spool
