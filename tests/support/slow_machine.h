#pragma once

#include <algorithm>
#include <atomic>
#include <cctype>
#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <termios.h>
#include <unistd.h>

/// A plotter that does not exist: on a pseudo-terminal or on TCP, with a finite buffer and a slow
/// knife. It reads HP-GL by itself, sharing no code with the program, obeys each pair of
/// coordinates as soon as it is whole, goes on with what its buffer holds when the line is lost,
/// and remembers every mark that its knife leaves.
namespace film::test {

struct Spot {
  long x = 0;
  long y = 0;
  friend bool operator==(Spot, Spot) = default;
};

class SlowMachine {
 public:
  struct Options {
    std::size_t buffer = 512;  ///< bytes
    double seconds_a_move = 20e-6;
    bool answers = true;
    bool xon_xoff = false;  ///< sends the two characters; a terminal's driver obeys them
  };

  explicit SlowMachine(const Options& options) : options_(options) {}
  ~SlowMachine() { stop(); }
  SlowMachine(const SlowMachine&) = delete;
  SlowMachine& operator=(const SlowMachine&) = delete;

  /// Starts on TCP; returns the address for a link.
  std::string listen() {
    server_ = ::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    sockaddr_in here{};
    here.sin_family = AF_INET;
    here.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof here;
    const int small = 2048;  // so that the other side feels the machine's slowness
    ::setsockopt(server_, SOL_SOCKET, SO_RCVBUF, &small, sizeof small);
    ::bind(server_, reinterpret_cast<sockaddr*>(&here), sizeof here);
    ::listen(server_, 1);
    ::getsockname(server_, reinterpret_cast<sockaddr*>(&here), &size);
    start();
    return "tcp:127.0.0.1:" + std::to_string(ntohs(here.sin_port));
  }

  /// Starts on a pseudo-terminal that `link` names, also after it was unplugged and plugged in
  /// again.
  std::string plug_in(const std::filesystem::path& link) {
    link_ = link;
    new_terminal();
    start();
    return "serial:" + link.string();
  }

  void stop() {
    ending_ = true;
    if (thread_.joinable()) thread_.join();
    for (int* fd : {&line_, &server_}) {
      if (*fd >= 0) ::close(*fd);
      *fd = -1;
    }
  }

  /// Breaks the line when that many more bytes have come; a terminal is plugged in again at once.
  void break_after(std::size_t bytes) { break_at_ = received_ + bytes; }
  /// As long as it is true the machine obeys nothing, as with its lid open.
  void hold(bool held) { held_ = held; }

  [[nodiscard]] std::size_t received() const { return received_; }
  [[nodiscard]] std::size_t breaks() const { return breaks_; }

  /// Until everything in the buffer has been obeyed and nothing more comes.
  void wait_until_idle() {
    for (int quiet = 0; quiet < 3;) {
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
      const std::lock_guard lock(mutex_);
      quiet = buffer_.empty() && line_quiet_ ? quiet + 1 : 0;
    }
  }

  /// Every mark: where the knife came down, and each place it was dragged to.
  [[nodiscard]] std::vector<std::vector<Spot>> marks() const {
    const std::lock_guard lock(mutex_);
    return marks_;
  }

 private:
  void start() {
    ending_ = false;
    thread_ = std::thread([this] { run(); });
  }

  void new_terminal() {
    line_ = ::posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC | O_NONBLOCK);
    ::grantpt(line_);
    ::unlockpt(line_);
    termios settings{};
    ::tcgetattr(line_, &settings);
    ::cfmakeraw(&settings);  // nothing is echoed before the program has set the line up
    ::tcsetattr(line_, TCSANOW, &settings);
    const std::filesystem::path next = link_.string() + ".next";
    std::error_code ignored;
    std::filesystem::remove(next, ignored);
    std::filesystem::create_symlink(::ptsname(line_), next);
    std::filesystem::rename(next, link_);
  }

  void run() {
    using Clock = std::chrono::steady_clock;
    auto free_at = Clock::now();
    while (!ending_) {
      const bool got = receive();
      bool moved = false;
      // Behind time it makes up for it, so that the speed does not hang on the sleeper's grain.
      while (!held_ && free_at <= Clock::now() && obey_byte()) {
        moved = true;
        if (std::exchange(stepped_, false)) {
          free_at += std::chrono::nanoseconds(static_cast<long>(1e9 * options_.seconds_a_move));
        }
      }
      if (!moved) free_at = std::max(free_at, Clock::now());
      {
        const std::lock_guard lock(mutex_);
        line_quiet_ = !got;
      }
      if (!got && !moved) std::this_thread::sleep_for(std::chrono::microseconds(50));
    }
  }

  bool receive() {
    if (server_ >= 0 && line_ < 0) {
      line_ = ::accept4(server_, nullptr, nullptr, SOCK_NONBLOCK | SOCK_CLOEXEC);
      if (line_ < 0) return false;
    }
    std::size_t room = 0;
    {
      const std::lock_guard lock(mutex_);
      room = options_.buffer - std::min(options_.buffer, buffer_.size());
    }
    room = std::min({room, std::size_t{64}, break_at_ - received_});
    if (room == 0) return false;
    char block[64];
    const ssize_t got = ::read(line_, block, room);
    if (got == 0 && server_ >= 0) {
      ::close(std::exchange(line_, -1));
      return false;
    }
    if (got <= 0) return false;
    received_ += static_cast<std::size_t>(got);
    const std::lock_guard lock(mutex_);
    for (ssize_t i = 0; i < got; ++i) take(block[i]);
    if (options_.xon_xoff && !stopped_ && buffer_.size() > options_.buffer * 3 / 4) {
      stopped_ = true;
      say("\x13");
    }
    if (received_ == break_at_) {
      ::close(std::exchange(line_, -1));
      break_at_ = SIZE_MAX;
      stopped_ = false;
      if (server_ < 0) new_terminal();
      ++breaks_;
    }
    return true;
  }

  // Device control is obeyed at once, everything else waits its turn.
  void take(char c) {
    if (escape_.empty() && c != '\x1b') {
      buffer_ += c;
      return;
    }
    escape_ += c;
    if (escape_.size() < 3) return;
    if (escape_ == "\x1b.K") {
      buffer_.clear();
      name_.clear();
      number_.clear();
      pair_.clear();
    } else if (escape_ == "\x1b.B") {
      say(std::to_string(options_.buffer - std::min(options_.buffer, buffer_.size())) + "\r");
    }
    escape_.clear();
  }

  void say(const std::string& text) {
    if (line_ >= 0 && options_.answers) (void)!::write(line_, text.data(), text.size());
  }

  bool obey_byte() {
    const std::lock_guard lock(mutex_);
    if (buffer_.empty()) return false;
    const char c = buffer_.front();
    buffer_.erase(0, 1);
    if (stopped_ && buffer_.size() < options_.buffer / 4) {
      stopped_ = false;
      say("\x11");
    }
    if (std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '+') {
      number_ += c;
    } else if (std::isalpha(static_cast<unsigned char>(c)) != 0) {
      end_number();
      if (name_.size() == 2) name_.clear();
      name_ += c;
      if (name_.size() == 2) begin();
    } else {
      end_number();
      if (c == ';') end();
    }
    return true;
  }

  void begin() {
    pair_.clear();
    if (name_ == "PU" || name_ == "IN") down_ = false;
    if (name_ == "PD" && !down_) {
      down_ = true;
      marks_.push_back({at_});
    }
    if (name_ == "PR") relative_ = true;
    if (name_ == "PA" || name_ == "IN") relative_ = false;
  }

  void end_number() {
    if (number_.empty()) return;
    pair_.push_back(std::strtol(number_.c_str(), nullptr, 10));
    number_.clear();
    if (pair_.size() < 2 || (name_ != "PU" && name_ != "PD" && name_ != "PA" && name_ != "PR")) {
      return;
    }
    const Spot from = relative_ ? at_ : Spot{};
    at_ = {from.x + pair_[0], from.y + pair_[1]};
    if (down_) marks_.back().push_back(at_);
    pair_.clear();
    stepped_ = true;
  }

  void end() {
    if (name_ == "OA") {
      say(std::to_string(at_.x) + "," + std::to_string(at_.y) + (down_ ? ",1\r" : ",0\r"));
    }
    if (name_ == "OS") say("16\r");
    name_.clear();
  }

  const Options options_;
  std::filesystem::path link_;
  int server_ = -1;
  int line_ = -1;
  std::thread thread_;
  std::atomic<bool> ending_{false};
  std::atomic<bool> held_{false};
  std::atomic<std::size_t> received_{0};
  std::atomic<std::size_t> break_at_{SIZE_MAX};
  std::atomic<std::size_t> breaks_{0};

  mutable std::mutex mutex_;
  bool line_quiet_ = true;
  bool stopped_ = false;  // XOFF was sent
  bool stepped_ = false;
  std::string buffer_;
  std::string escape_;
  std::string name_;
  std::string number_;
  std::vector<long> pair_;
  bool relative_ = false;
  bool down_ = false;
  Spot at_;
  std::vector<std::vector<Spot>> marks_;
};

}  // namespace film::test
