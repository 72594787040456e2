// A served shop, and who asks it.

#include "evidence_shop_book/served.h"

#include <array>
#include <csignal>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/text.h"
#include "server/serve.h"
#include "workbench/seed_demo.h"

namespace film::bench {
namespace {

volatile std::sig_atomic_t asked_to_end = 0;

/// The child: serves the book and tells its port through the pipe.
[[noreturn]] void serve(const std::filesystem::path& folder, bool demo, int pipe_end) {
  std::signal(SIGTERM, [](int) { asked_to_end = 1; });
  const auto workbench = workbench::open_workbench(folder);
  if (!workbench || (demo && !workbench::seed_demo(**workbench))) _exit(1);
  server::ServeOptions options;
  options.port = 0;
  (void)server::serve(
      **workbench, options,
      [pipe_end](const server::Serving& serving) {
        const int port = std::stoi(serving.address.substr(serving.address.rfind(':') + 1));
        if (write(pipe_end, &port, sizeof port) != sizeof port) _exit(1);
      },
      [] { return asked_to_end != 0; });
  _exit(0);
}

}  // namespace

Served::Served(const std::filesystem::path& folder, bool demo) {
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) return;
  process_ = fork();
  if (process_ == 0) serve(folder, demo, ends[1]);
  close(ends[1]);
  pipe_end_ = ends[0];
  int port = 0;
  if (read(pipe_end_, &port, sizeof port) == sizeof port) port_ = static_cast<std::uint16_t>(port);
}

Served::~Served() {
  if (process_ > 0) {
    kill(process_, SIGTERM);
    waitpid(process_, nullptr, 0);
  }
  if (pipe_end_ >= 0) close(pipe_end_);
}

Tablet::Tablet(std::uint16_t port) : port_(port) {
  connection_ = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in to{};
  to.sin_family = AF_INET;
  to.sin_port = htons(port);
  to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  const int on = 1;
  setsockopt(connection_, IPPROTO_TCP, TCP_NODELAY, &on, sizeof on);
  (void)connect(connection_, reinterpret_cast<const sockaddr*>(&to), sizeof to);
}

Tablet::~Tablet() { close(connection_); }

int Tablet::ask(const std::string& method, const std::string& target, const std::string& body) {
  const std::string request = format(
      "{} {} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n"
      "Content-Length: {}\r\n\r\n{}",
      method, target, port_, body.size(), body);
  if (send(connection_, request.data(), request.size(), MSG_NOSIGNAL) !=
      static_cast<ssize_t>(request.size())) {
    return 0;
  }
  std::string text;
  std::size_t end = std::string::npos;
  std::size_t whole = 0;
  while (end == std::string::npos || text.size() < whole) {
    std::array<char, 65536> part{};
    const ssize_t n = recv(connection_, part.data(), part.size(), 0);
    if (n <= 0) return 0;
    text.append(part.data(), static_cast<std::size_t>(n));
    if (end != std::string::npos) continue;
    end = text.find("\r\n\r\n");
    const std::size_t length = text.find("Content-Length: ");
    if (end != std::string::npos && length < end) {
      whole = end + 4 + std::stoul(text.substr(length + 16));
    }
  }
  return std::stoi(text.substr(9, 3));
}

}  // namespace film::bench
