#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

#include <sys/types.h>

namespace film::bench {

/// A process that serves the book of a folder on loopback; it ends with its owner. Made before the
/// owner has threads.
class Served {
 public:
  /// `demo`: the invented demo shop is put into the book first.
  Served(const std::filesystem::path& folder, bool demo);
  ~Served();
  Served(const Served&) = delete;
  Served& operator=(const Served&) = delete;
  /// 0 when it could not be served.
  [[nodiscard]] std::uint16_t port() const { return port_; }
  [[nodiscard]] pid_t process() const { return process_; }

 private:
  pid_t process_ = 0;
  int pipe_end_ = -1;
  std::uint16_t port_ = 0;
};

/// One connection that stays open.
class Tablet {
 public:
  explicit Tablet(std::uint16_t port);
  ~Tablet();
  Tablet(const Tablet&) = delete;
  Tablet& operator=(const Tablet&) = delete;

  /// The status of the answer, read whole; 0 when the connection broke.
  int ask(const std::string& method, const std::string& target, const std::string& body);

 private:
  std::uint16_t port_;
  int connection_ = -1;
};

}  // namespace film::bench
