#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.h"

namespace film::server {

/// A request as it came. Header names are lower case.
struct Request {
  std::string method;  ///< "GET"
  std::string target;  ///< path and query, still encoded
  std::vector<std::pair<std::string, std::string>> headers;
  std::string body;
  std::string peer = {};  ///< address of the other end, without its port

  /// The first header of that (lower-case) name, or empty.
  [[nodiscard]] std::string_view header(std::string_view name) const;
};

/// A stream of server-sent events to one listener.
class EventStream {
 public:
  struct Batch {
    std::string text;   ///< events in the form of the standard; may be empty
    bool last = false;  ///< nothing follows
  };

  virtual ~EventStream() = default;
  /// What is new since the call before. Called from one thread at a time.
  virtual Batch next() = 0;
  /// `wake` is called, from any thread, when there is something new. Once set, it is called at
  /// least once more after every news.
  virtual void on_news(std::function<void()> wake) = 0;
};

struct Response {
  int status = 200;
  std::vector<std::pair<std::string, std::string>> headers;
  std::string body;
  std::string_view lasting_body;        ///< sent when `body` is empty; must outlive the server
  std::shared_ptr<EventStream> events;  ///< when set, the answer is this stream, not a body
};

struct HttpOptions {
  std::string address = "127.0.0.1";
  std::uint16_t port = 0;  ///< 0: any free one
  std::size_t handler_threads = 8;
  std::size_t greatest_header = std::size_t{16} << 10;
  std::size_t greatest_body = std::size_t{4} << 20;
  std::size_t greatest_file = std::size_t{128}
                              << 20;  ///< of a body that is a zip file or a picture
  std::size_t most_connections = 256;
  double idle_seconds = 60;  ///< a connection without a request is closed after this
  double slow_seconds = 20;  ///< a request or answer that takes longer is cut off
};

/// An HTTP/1.1 server: one thread moves bytes, a few call the handler, event streams need none.
class HttpServer {
 public:
  /// Answers one request; may be called by several threads at once and may take its time.
  using Handler = std::function<Response(const Request&)>;
  /// Answers what was no request (400, 408, 413, 431), in the form of the handler's failures.
  using Refusal = std::function<Response(int status, std::string_view what)>;

  virtual ~HttpServer() = default;
  [[nodiscard]] virtual std::uint16_t port() const = 0;
  /// Serves until `stop`; returns once no handler runs any more.
  virtual void run() = 0;
  /// May be called from any thread.
  virtual void stop() = 0;
};

/// Binds and listens; connections wait until `run`. Errors: io (the port is taken, no permission),
/// invalid_input (no address).
Result<std::unique_ptr<HttpServer>> listen(const HttpOptions& options, HttpServer::Handler handler,
                                           HttpServer::Refusal refusal);

}  // namespace film::server
