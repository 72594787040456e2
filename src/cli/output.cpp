#include "cli/output.h"

#include <algorithm>
#include <cstdio>
#include <string>

#include <unistd.h>

#include "base/text.h"
#include "cli/program.h"

namespace film::cli {
namespace {

int exit_code(ErrorCode code) {
  switch (code) {
    case ErrorCode::invalid_input:
    case ErrorCode::unsupported:
    case ErrorCode::conflict:
    case ErrorCode::too_large: return kBadInput;
    case ErrorCode::not_found: return kNotFound;
    case ErrorCode::cancelled: return kCancelled;
    case ErrorCode::io: return kIo;
  }
  return kFailed;
}

}  // namespace

int report(const Error& error) {
  std::fputs(format("filmwright: {}\n", error.message()).c_str(), stderr);
  return exit_code(error.code);
}

ProgressBar::ProgressBar() : on_terminal_(::isatty(STDERR_FILENO) != 0) {}

ProgressBar::~ProgressBar() {
  if (drawn_) std::fputs("\r\x1b[K", stderr);
}

Context::ProgressSink ProgressBar::sink() {
  if (!on_terminal_) return {};
  return [this](const Progress& progress) { draw(progress); };
}

void ProgressBar::draw(const Progress& progress) {
  using namespace std::chrono_literals;
  const std::lock_guard lock(mutex_);
  const auto now = std::chrono::steady_clock::now();
  if (now < next_draw_) return;
  next_draw_ = now + 100ms;
  drawn_ = true;
  constexpr int kCells = 30;
  const double fraction = std::clamp(progress.fraction, 0.0, 1.0);
  const auto filled = static_cast<std::size_t>(fraction * kCells);
  const std::string bar = std::string(filled, '#') + std::string(kCells - filled, '.');
  const std::string share = progress.fraction < 0 ? "   " : format("{:3.0f}%", 100 * fraction);
  std::fputs(format("\r\x1b[K[{}] {} {}", bar, share, progress.stage).c_str(), stderr);
  std::fflush(stderr);
}

}  // namespace film::cli
