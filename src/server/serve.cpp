#include "server/serve.h"

#include <atomic>
#include <chrono>
#include <thread>

#include "base/text.h"
#include "server/api.h"
#include "server/http.h"

namespace film::server {
namespace {

Result<std::string> loopback(const std::string& address) {
  if (address == "localhost") return "127.0.0.1";
  if (address == "127.0.0.1" || address == "::1") return address;
  return fail(ErrorCode::unsupported,
              "users are not set up, so the server may not be reached from other machines",
              "address " + address, "Use 127.0.0.1.");
}

}  // namespace

Result<void> serve(workbench::Workbench& workbench, const ServeOptions& options,
                   const std::function<void(const std::string& address)>& ready,
                   const std::function<bool()>& stopped) {
  const auto address = loopback(options.address);
  if (!address) return Failure(address.error());
  Api api(workbench, options.files, {options.threads, options.version});
  HttpOptions http;
  http.address = *address;
  http.port = options.port;
  const auto server = listen(
      http, [&api](const Request& request) { return api.answer(request); }, Api::refuse);
  if (!server) return Failure(server.error());
  const std::string host = *address == "::1" ? "[::1]" : *address;
  ready(format("http://{}:{}", host, (*server)->port()));
  api.warm_up();

  std::atomic<bool> ended{false};
  std::thread watcher([&] {
    while (!ended.load() && !stopped()) std::this_thread::sleep_for(std::chrono::milliseconds(50));
    // Long requests end early when their work is stopped first.
    api.close();
    (*server)->stop();
  });
  (*server)->run();
  ended.store(true);
  watcher.join();
  return {};
}

}  // namespace film::server
