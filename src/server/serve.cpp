#include "server/serve.h"

#include <atomic>
#include <chrono>
#include <thread>

#include "base/text.h"
#include "server/api.h"
#include "server/http.h"
#include "workbench/browse.h"

namespace film::server {
namespace {

bool is_loopback(const std::string& address) { return address == "127.0.0.1" || address == "::1"; }

/// The demo shop asks nobody for a password, so it stays on this machine.
Result<void> check_place(workbench::Workbench& workbench, const std::string& address,
                         const std::string& public_address) {
  const bool sound = public_address.starts_with("https://") || public_address.empty();
  if (!sound || public_address.find('/', 8) != std::string::npos) {
    return fail(ErrorCode::invalid_input, "the public address is not one of a proxy with TLS",
                "address " + public_address, "Write it like https://shop.example");
  }
  if (is_loopback(address) && public_address.empty()) return {};
  const auto settings = workbench::shop_settings(workbench);
  if (!settings || !settings->demo) return {};
  return fail(ErrorCode::unsupported,
              "the demo shop asks no users for a password, so no other machine may reach it",
              "address " + address, "Use 127.0.0.1, or a shop of your own.");
}

}  // namespace

Result<void> serve(workbench::Workbench& workbench, const ServeOptions& options,
                   const std::function<void(const Serving&)>& ready,
                   const std::function<bool()>& stopped) {
  const std::string address = options.address == "localhost" ? "127.0.0.1" : options.address;
  if (auto sound = check_place(workbench, address, options.public_address); !sound) return sound;
  Api api(workbench, options.files,
          {options.threads, options.version, {is_loopback(address), options.public_address}});
  HttpOptions http;
  http.address = address;
  http.port = options.port;
  const auto server = listen(
      http, [&api](const Request& request) { return api.answer(request); }, Api::refuse);
  if (!server) return Failure(server.error());
  const std::string host = address.find(':') == std::string::npos ? address : "[" + address + "]";
  Serving serving{format("http://{}:{}", host, (*server)->port()), ""};
  if (!options.public_address.empty()) serving.address = options.public_address;
  if (const std::string& token = api.first_start_token(); !token.empty()) {
    serving.first_start = serving.address + "/first-start#" + token;
  }
  ready(serving);
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
