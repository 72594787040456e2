#include "spool/line.h"

#include <array>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <utility>

#include <fcntl.h>
#include <linux/sockios.h>
#include <netdb.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <sys/file.h>
#include <sys/ioctl.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <termios.h>
#include <unistd.h>

#include "base/text.h"

namespace film::spool {
namespace {

struct Speed {
  int baud;
  speed_t code;
};
constexpr std::array<Speed, 14> kSpeeds{{{300, B300},
                                         {600, B600},
                                         {1200, B1200},
                                         {2400, B2400},
                                         {4800, B4800},
                                         {9600, B9600},
                                         {19200, B19200},
                                         {38400, B38400},
                                         {57600, B57600},
                                         {115200, B115200},
                                         {230400, B230400},
                                         {460800, B460800},
                                         {921600, B921600},
                                         {1000000, B1000000}}};

/// 8 bits, no parity, one stop bit, nothing translated.
bool set_line(int fd, speed_t speed, cutting::Flow flow) {
  termios settings{};
  if (tcgetattr(fd, &settings) != 0) return false;
  cfmakeraw(&settings);
  settings.c_cflag |= CLOCAL | CREAD;
  settings.c_cflag &= ~static_cast<tcflag_t>(CSTOPB | CRTSCTS | HUPCL);
  settings.c_iflag &= ~static_cast<tcflag_t>(IXON | IXOFF | IXANY);
  if (flow == cutting::Flow::rts_cts) settings.c_cflag |= CRTSCTS;
  if (flow == cutting::Flow::xon_xoff) settings.c_iflag |= IXON | IXOFF;
  cfsetispeed(&settings, speed);
  cfsetospeed(&settings, speed);
  // Old answers are thrown away with the old settings.
  return tcsetattr(fd, TCSAFLUSH, &settings) == 0;
}

/// The file that stands for the address in a lock. Two names of one device node are one machine.
std::filesystem::path lock_file(const std::string& address) {
  std::string target = address;
  if (const std::size_t colon = address.find(':'); !address.starts_with("tcp:")) {
    std::error_code error;
    const auto real = std::filesystem::canonical(address.substr(colon + 1), error);
    if (!error) target = real.string();
  }
  std::string name = "filmwright-";
  for (const char c : target) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    name += plain || c == '.' ? c : '-';
  }
  return std::filesystem::temp_directory_path() / (name + ".lock");
}

}  // namespace

Result<MachineLock> MachineLock::take(const std::string& address) {
  const auto file = lock_file(address);
  int fd = ::open(file.c_str(), O_RDWR | O_CLOEXEC | O_NOFOLLOW);
  if (fd < 0 && errno == ENOENT) {
    fd = ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0666);
  }
  if (fd < 0) {
    return fail(ErrorCode::io, format("the machine's lock: {}", std::strerror(errno)),
                file.string(), "Make sure that this user may write there");
  }
  MachineLock lock(fd);
  if (::flock(fd, LOCK_EX | LOCK_NB) == 0) return lock;
  return fail(ErrorCode::conflict, "another run is on this machine", address,
              "Wait until it has ended, or pause it");
}

MachineLock::MachineLock(MachineLock&& other) noexcept : fd_(std::exchange(other.fd_, -1)) {}

MachineLock& MachineLock::operator=(MachineLock&& other) noexcept {
  std::swap(fd_, other.fd_);
  return *this;
}

MachineLock::~MachineLock() {
  if (fd_ >= 0) ::close(fd_);
}

Failure Line::failed(std::string_view what) const {
  const int code = errno;
  const bool missing = code == ENOENT || code == ENODEV || code == ENXIO;
  return fail(missing ? ErrorCode::not_found : ErrorCode::io,
              format("{}: {}", what, std::strerror(code)), address_,
              "Look at the cable, the machine's power and the address in its profile");
}

Result<Line> Line::open(const cutting::Link& link) {
  const std::string_view address = link.address;
  const std::size_t colon = address.find(':');
  const std::string_view kind = address.substr(0, colon);
  const std::string rest(colon == std::string_view::npos ? "" : address.substr(colon + 1));
  const bool reads = link.answers || link.flow == cutting::Flow::asked;
  Line line(link.address, reads);
  Result<void> opened = fail(ErrorCode::invalid_input, "this is no address of a machine",
                             link.address, "Use serial:/dev/..., device:/dev/... or tcp:host:port");
  if (kind == "serial" && !rest.empty()) opened = line.open_tty(rest, link);
  if (kind == "device" && !rest.empty()) opened = line.open_device(rest);
  if (kind == "tcp") {
    const std::size_t last = rest.rfind(':');
    if (last != std::string::npos && last > 0 && last + 1 < rest.size()) {
      std::string host = rest.substr(0, last);
      if (host.front() == '[' && host.back() == ']') host = host.substr(1, host.size() - 2);
      opened = line.connect(host, rest.substr(last + 1), link.patience.value);
    }
  }
  if (!opened) return Failure(opened.error());
  return line;
}

Line::Line(Line&& other) noexcept
    : address_(std::move(other.address_)),
      reads_(other.reads_),
      socket_(other.socket_),
      fd_(std::exchange(other.fd_, -1)) {}

Line& Line::operator=(Line&& other) noexcept {
  std::swap(address_, other.address_);
  std::swap(reads_, other.reads_);
  std::swap(socket_, other.socket_);
  std::swap(fd_, other.fd_);
  return *this;
}

Line::~Line() {
  if (fd_ >= 0) ::close(fd_);
}

Result<void> Line::open_tty(const std::string& path, const cutting::Link& link) {
  const auto* speed = kSpeeds.begin();
  while (speed != kSpeeds.end() && speed->baud != link.baud) ++speed;
  if (speed == kSpeeds.end()) {
    return fail(ErrorCode::invalid_input, format("no line runs at {} baud", link.baud), address_,
                "Use 9600, 19200, 38400, 57600 or 115200");
  }
  if (auto opened = open_device(path); !opened) return opened;
  if (isatty(fd_) == 0) {
    return fail(ErrorCode::invalid_input, "this is not a serial line", address_,
                "Write device: instead of serial:");
  }
  if (!set_line(fd_, speed->code, link.flow)) return failed("the line cannot be set up");
  reads_ = true;
  return {};
}

Result<void> Line::open_device(const std::string& path) {
  const int access = reads_ || address_.starts_with("serial:") ? O_RDWR : O_WRONLY;
  fd_ = ::open(path.c_str(), access | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  if (fd_ < 0) return failed("the device cannot be opened");
  struct stat kind {};
  if (fstat(fd_, &kind) != 0 || S_ISREG(kind.st_mode) || S_ISDIR(kind.st_mode)) {
    return fail(ErrorCode::invalid_input, "this is a plain file, not a device", address_,
                "Write the cut to a file instead");
  }
  return {};
}

Result<void> Line::connect(const std::string& host, const std::string& port, double patience) {
  addrinfo wish{};
  wish.ai_socktype = SOCK_STREAM;
  addrinfo* found = nullptr;
  if (const int code = getaddrinfo(host.c_str(), port.c_str(), &wish, &found); code != 0) {
    return fail(ErrorCode::not_found, gai_strerror(code), address_,
                "Look at the address in the machine's profile");
  }
  const auto wait_ms = static_cast<int>(1000 * std::min(patience, 10.0));
  for (const addrinfo* one = found; one != nullptr; one = one->ai_next) {
    fd_ = ::socket(one->ai_family, one->ai_socktype | SOCK_NONBLOCK | SOCK_CLOEXEC, 0);
    if (fd_ < 0) continue;
    int fault = ::connect(fd_, one->ai_addr, one->ai_addrlen) == 0 ? 0 : errno;
    if (fault == EINPROGRESS) {
      pollfd ready{fd_, POLLOUT, 0};
      socklen_t size = sizeof fault;
      fault = ETIMEDOUT;
      if (::poll(&ready, 1, wait_ms) == 1) getsockopt(fd_, SOL_SOCKET, SO_ERROR, &fault, &size);
    }
    if (fault == 0) break;
    ::close(std::exchange(fd_, -1));
    errno = fault;
  }
  freeaddrinfo(found);
  if (fd_ < 0) return failed("the machine cannot be reached");
  socket_ = true;
  reads_ = true;
  const int on = 1;
  const auto silence = static_cast<unsigned>(std::min(1000 * patience, 4e9));
  setsockopt(fd_, SOL_SOCKET, SO_KEEPALIVE, &on, sizeof on);
  setsockopt(fd_, IPPROTO_TCP, TCP_NODELAY, &on, sizeof on);
  setsockopt(fd_, IPPROTO_TCP, TCP_USER_TIMEOUT, &silence, sizeof silence);
  return {};
}

Result<std::size_t> Line::exchange(std::string_view out, std::string& in, double seconds) {
  pollfd ready{fd_, static_cast<short>((reads_ ? POLLIN : 0) | (out.empty() ? 0 : POLLOUT)), 0};
  const int wait = static_cast<int>(std::ceil(1000 * std::max(0.0, seconds)));
  if (::poll(&ready, 1, wait) < 0 && errno != EINTR) return failed("the line is lost");
  if ((ready.revents & POLLIN) != 0) {
    std::array<char, 4096> block;
    const ssize_t got = ::read(fd_, block.data(), block.size());
    if (got == 0) {
      return fail(ErrorCode::io, "the machine closed the connection", address_,
                  "Look at the machine");
    }
    if (got < 0 && errno != EAGAIN && errno != EINTR) return failed("the line is lost");
    if (got > 0) in.append(block.data(), static_cast<std::size_t>(got));
  }
  if ((ready.revents & POLLOUT) != 0 && !out.empty()) {
    const ssize_t put = socket_ ? ::send(fd_, out.data(), out.size(), MSG_NOSIGNAL)
                                : ::write(fd_, out.data(), out.size());
    if (put >= 0) return static_cast<std::size_t>(put);
    if (errno != EAGAIN && errno != EINTR) return failed("the line is lost");
  }
  if ((ready.revents & (POLLERR | POLLHUP | POLLNVAL)) != 0 && (ready.revents & POLLIN) == 0) {
    return fail(ErrorCode::io, "the machine is gone", address_,
                "Look at the cable and the machine's power");
  }
  return std::size_t{0};
}

std::size_t Line::unsent() const {
  int count = 0;
  if (::ioctl(fd_, socket_ ? SIOCOUTQ : TIOCOUTQ, &count) != 0) return 0;
  return static_cast<std::size_t>(std::max(0, count));
}

}  // namespace film::spool
