// Many tablets at one served shop.

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <csignal>
#include <fstream>
#include <mutex>
#include <thread>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/rng.h"
#include "base/text.h"
#include "evidence_shop_book/parts.h"
#include "figure.h"
#include "server/serve.h"
#include "workbench/seed_demo.h"

namespace film::bench {
namespace {

using Clock = std::chrono::steady_clock;

/// One connection that stays open.
class Tablet {
 public:
  explicit Tablet(std::uint16_t port) : port_(port) {
    connection_ = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(port);
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    const int on = 1;
    setsockopt(connection_, IPPROTO_TCP, TCP_NODELAY, &on, sizeof on);
    (void)connect(connection_, reinterpret_cast<const sockaddr*>(&to), sizeof to);
  }
  ~Tablet() { close(connection_); }
  Tablet(const Tablet&) = delete;
  Tablet& operator=(const Tablet&) = delete;

  /// The status of the answer, read whole; 0 when the connection broke.
  int ask(const std::string& method, const std::string& target, const std::string& body) {
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

 private:
  std::uint16_t port_;
  int connection_ = -1;
};

double megabytes_of(pid_t process) {
  std::ifstream file(format("/proc/{}/statm", process));
  double pages = 0;
  double resident = 0;
  file >> pages >> resident;
  return resident * static_cast<double>(sysconf(_SC_PAGESIZE)) / 1e6;
}

volatile std::sig_atomic_t asked_to_end = 0;

/// The child: serves the demo shop and tells its port through the pipe.
[[noreturn]] void serve(const std::filesystem::path& folder, int pipe_end) {
  std::signal(SIGTERM, [](int) { asked_to_end = 1; });
  const auto workbench = workbench::open_workbench(folder);
  if (!workbench || !workbench::seed_demo(**workbench)) _exit(1);
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

void tablets(int count, double seconds) {
  const Scratch scratch;
  int ends[2];
  if (pipe(ends) != 0) return;
  const pid_t server = fork();
  if (server == 0) serve(scratch.folder(), ends[1]);
  close(ends[1]);
  int port = 0;
  if (read(ends[0], &port, sizeof port) != sizeof port) return;
  std::this_thread::sleep_for(std::chrono::seconds(15));  // it studies the newest job at first

  std::mutex mutex;
  std::vector<double> times;
  std::atomic<int> errors{0};
  const auto end = Clock::now() + std::chrono::duration<double>(seconds);
  std::vector<std::thread> threads;
  for (int t = 0; t < count; ++t) {
    threads.emplace_back([&, t] {
      Rng rng(static_cast<std::uint64_t>(t) + 1);
      Tablet tablet(static_cast<std::uint16_t>(port));
      const std::array<std::string, 7> pages{
          "/api/v1/session",          "/api/v1/jobs",
          "/api/v1/jobs/J-0001",      "/api/v1/jobs/J-0001/history",
          "/api/v1/customers",        "/api/v1/rolls",
          "/api/v1/jobs/J-0001/glass"};
      std::vector<double> own;
      while (Clock::now() < end) {
        std::this_thread::sleep_for(std::chrono::milliseconds(250 + rng.below(500)));
        const bool writes = rng.below(10) == 0;
        const auto start = Clock::now();
        const int status =
            writes ? tablet.ask("POST", "/api/v1/customers",
                                format(R"({{"name": "Customer {} {}"}})", t, own.size()))
                   : tablet.ask("GET", pages[rng.below(pages.size())], "");
        own.push_back(std::chrono::duration<double, std::milli>(Clock::now() - start).count());
        if (status != (writes ? 201 : 200)) ++errors;
      }
      const std::lock_guard lock(mutex);
      times.insert(times.end(), own.begin(), own.end());
    });
  }
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds / 5));
  const double early = megabytes_of(server);
  for (auto& thread : threads) thread.join();
  const double late = megabytes_of(server);
  kill(server, SIGTERM);
  waitpid(server, nullptr, 0);
  close(ends[0]);

  std::sort(times.begin(), times.end());
  const std::string name = format("{} tablets for {:.0f} s on loopback", count, seconds);
  const double p99 = times.empty() ? 1e9 : times[times.size() * 99 / 100];
  say(name + ": errors", format("{} in {} requests", errors.load(), times.size()), "0",
      "a request each half second; one in ten writes", errors == 0 && !times.empty());
  say(name + ": p99", format("{:.1f} ms", p99), "< 100 ms", "", p99 < 100);
  say(name + ": memory of the server after a fifth of the time and at the end",
      format("{:.0f} MB, {:.0f} MB", early, late), "at most 10 % more", "resident set",
      late < 1.1 * early);
}

}  // namespace film::bench
