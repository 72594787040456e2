#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/result.h"
#include "cutting/profile.h"

namespace film::spool {

/// The right to talk to the machine at an address. The system frees it when the process ends,
/// however it ends.
class MachineLock {
 public:
  /// Errors: conflict (another run, of this or another program, holds it), io.
  static Result<MachineLock> take(const std::string& address);

  MachineLock(MachineLock&& other) noexcept;
  MachineLock& operator=(MachineLock&& other) noexcept;
  MachineLock(const MachineLock&) = delete;
  MachineLock& operator=(const MachineLock&) = delete;
  ~MachineLock();

 private:
  explicit MachineLock(int fd) : fd_(fd) {}
  int fd_ = -1;
};

/// An open way to a machine: a serial line, a device node or a TCP connection.
class Line {
 public:
  /// The caller holds the machine's lock. Opens `link.address`: "serial:/dev/ttyUSB0",
  /// "device:/dev/usb/lp0", "tcp:host:port". Errors: invalid_input (an address of no such form, a
  /// speed that no line has, a serial line that is none, a plain file), not_found, io; each names
  /// the address.
  static Result<Line> open(const cutting::Link& link);

  Line(Line&& other) noexcept;
  Line& operator=(Line&& other) noexcept;
  Line(const Line&) = delete;
  Line& operator=(const Line&) = delete;
  ~Line();

  /// Waits up to `seconds` for input or, when there is something to send, for room; then writes
  /// what fits of `out` and appends what came to `in`. Returns how much was written. Errors: io
  /// (the device or the other end is gone, a full disk).
  Result<std::size_t> exchange(std::string_view out, std::string& in, double seconds);

  /// Bytes written that have not left this machine, as far as the system can tell.
  [[nodiscard]] std::size_t unsent() const;

 private:
  Line(std::string address, bool reads) : address_(std::move(address)), reads_(reads) {}

  Result<void> open_tty(const std::string& path, const cutting::Link& link);
  Result<void> open_device(const std::string& path);
  Result<void> connect(const std::string& host, const std::string& port, double patience);
  [[nodiscard]] Failure failed(std::string_view what) const;

  std::string address_;
  bool reads_ = false;  // there may be answers
  bool socket_ = false;
  int fd_ = -1;
};

}  // namespace film::spool
