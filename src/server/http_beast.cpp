// The only source that knows the network library. One io thread owns every connection; handlers
// run on a pool and hand their answers back to it.

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <sstream>

#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/thread_pool.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>

#include "base/text.h"
#include "server/http.h"

namespace film::server {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using asio::ip::tcp;
using boost::system::error_code;

constexpr auto kHeartbeat = std::chrono::seconds(15);

std::chrono::milliseconds milliseconds(double seconds) {
  return std::chrono::milliseconds(static_cast<std::int64_t>(seconds * 1000));
}

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(), [](unsigned char c) {
    return static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  });
  return out;
}

std::string_view view(boost::string_view text) { return {text.data(), text.size()}; }

struct Shared {
  HttpOptions options;
  HttpServer::Handler handler;
  HttpServer::Refusal refusal;
  asio::thread_pool* handlers = nullptr;
  std::size_t connections = 0;  // touched by the io thread only
};

Response failed(const Shared& shared, const char* what) {
  std::fprintf(stderr, "filmwright: defect while answering a request: %s\n", what);
  return shared.refusal(500, "the program went wrong");
}

class Connection : public std::enable_shared_from_this<Connection> {
 public:
  Connection(tcp::socket socket, Shared& shared) : stream_(std::move(socket)), shared_(shared) {
    ++shared_.connections;
  }
  ~Connection() { --shared_.connections; }
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;

  void start() { read(); }

 private:
  void read() {
    parser_.emplace();
    parser_->header_limit(static_cast<std::uint32_t>(shared_.options.greatest_header));
    parser_->body_limit(shared_.options.greatest_file);
    // The idle time covers the wait for the first byte; the rest must then come quickly.
    stream_.expires_after(milliseconds(shared_.options.idle_seconds));
    http::async_read_header(
        stream_, buffer_, *parser_,
        [self = shared_from_this()](error_code error, std::size_t) { self->header_read(error); });
  }

  void header_read(error_code error) {
    if (error) return refuse(error);
    const std::string_view media = view(parser_->get()[http::field::content_type]);
    const bool is_file =
        media == "application/zip" || media == "image/jpeg" || media == "image/png";
    if (!is_file) {
      const auto length = parser_->content_length();
      if (length && *length > shared_.options.greatest_body) return refuse(http::error::body_limit);
      parser_->body_limit(shared_.options.greatest_body);  // for bodies that come in chunks
    }
    if (lower(view(parser_->get()[http::field::expect])) == "100-continue") {
      http::response<http::empty_body> go_on{http::status::continue_, 11};
      error_code ignored;
      http::write(stream_.socket(), go_on, ignored);
    }
    stream_.expires_after(milliseconds(shared_.options.slow_seconds));
    http::async_read(stream_, buffer_, *parser_,
                     [self = shared_from_this()](error_code failure, std::size_t) {
                       failure ? self->refuse(failure) : self->handle();
                     });
  }

  /// What could not be read as a request is answered if that makes sense, then closed.
  void refuse(error_code error) {
    keep_alive_ = false;
    if (error == http::error::body_limit) return send(shared_.refusal(413, "the body is too big"));
    if (error == http::error::header_limit) {
      return send(shared_.refusal(431, "the headers are too big"));
    }
    const bool gone = error == http::error::end_of_stream || error == beast::error::timeout ||
                      error == asio::error::connection_reset || error == asio::error::eof ||
                      error == http::error::partial_message ||
                      error == asio::error::operation_aborted;
    if (!gone) send(shared_.refusal(400, "this is not an HTTP request"));
  }

  void handle() {
    Request request;
    auto message = parser_->release();
    keep_alive_ = message.keep_alive();
    head_only_ = message.method() == http::verb::head;
    request.method = head_only_ ? "GET" : std::string(view(message.method_string()));
    request.target = std::string(view(message.target()));
    for (const auto& field : message.base()) {
      request.headers.emplace_back(lower(view(field.name_string())), view(field.value()));
    }
    request.body = std::move(message.body());
    error_code gone;
    const auto peer = stream_.socket().remote_endpoint(gone);
    if (!gone) request.peer = peer.address().to_string();
    stream_.expires_never();
    asio::post(*shared_.handlers, [self = shared_from_this(),
                                   request = std::move(request)]() mutable {
      Response response = self->answer(request);
      asio::post(self->stream_.get_executor(), [self, response = std::move(response)]() mutable {
        self->send(std::move(response));
      });
    });
  }

  Response answer(const Request& request) const {
    try {
      return shared_.handler(request);
    } catch (const std::exception& error) {
      return failed(shared_, error.what());
    }
  }

  http::response_header<> header_of(const Response& response) const {
    http::response_header<> header;
    header.version(11);
    header.result(static_cast<unsigned>(response.status));
    for (const auto& [name, value] : response.headers) header.insert(name, value);
    return header;
  }

  void send(Response response) {
    if (response.events && !head_only_) return stream_events(std::move(response));
    response_ = std::move(response);
    const std::string_view body =
        response_.body.empty() ? response_.lasting_body : std::string_view(response_.body);
    message_.emplace(header_of(response_));
    message_->keep_alive(keep_alive_);
    message_->content_length(body.size());
    if (!head_only_) message_->body() = {body.data(), body.size()};
    serializer_.emplace(*message_);
    stream_.expires_after(milliseconds(shared_.options.slow_seconds));
    const auto done = [self = shared_from_this()](error_code error, std::size_t) {
      self->sent(error);
    };
    if (head_only_) {
      http::async_write_header(stream_, *serializer_, done);
    } else {
      http::async_write(stream_, *serializer_, done);
    }
  }

  void sent(error_code error) {
    if (error) return;
    if (!keep_alive_) {
      error_code ignored;
      stream_.socket().shutdown(tcp::socket::shutdown_send, ignored);
      return linger();
    }
    read();
  }

  /// Reads what the client still sends, for a moment, so that it sees the answer and not a reset.
  void linger() {
    stream_.expires_after(std::chrono::seconds(1));
    stream_.async_read_some(asio::buffer(scrap_),
                            [self = shared_from_this()](error_code error, std::size_t) {
                              if (!error) self->linger();
                            });
  }

  // Events: written as they come; the answer ends with the connection, so it needs no framing.

  void stream_events(Response response) {
    events_ = std::move(response.events);
    response.headers.emplace_back("Connection", "close");
    http::response<http::empty_body> head(header_of(response));
    std::ostringstream text;
    text << head.base();
    outgoing_ = text.str();
    heartbeat_.emplace(stream_.get_executor());
    events_->on_news([weak = weak_from_this(), executor = stream_.get_executor()] {
      asio::post(executor, [weak] {
        if (const auto self = weak.lock()) self->write_events();
      });
    });
    watch_for_leaving();
    beat();
    write_events();
  }

  void write_events() {
    if (writing_ || ended_) return;
    auto batch = events_->next();
    ended_ = batch.last;
    outgoing_ += batch.text;
    if (outgoing_.empty()) {
      if (ended_) close();
      return;
    }
    writing_ = true;
    stream_.expires_after(milliseconds(shared_.options.slow_seconds));
    asio::async_write(stream_, asio::buffer(outgoing_),
                      [self = shared_from_this()](error_code error, std::size_t) {
                        self->events_written(error);
                      });
  }

  void events_written(error_code error) {
    writing_ = false;
    outgoing_.clear();
    if (error || ended_) return close();
    stream_.expires_never();
    write_events();
  }

  void beat() {
    heartbeat_->expires_after(kHeartbeat);
    heartbeat_->async_wait([self = shared_from_this()](error_code error) {
      if (error || self->ended_) return;
      if (!self->writing_) {
        self->outgoing_ = ": still here\n\n";
        self->write_events();
      }
      self->beat();
    });
  }

  void watch_for_leaving() {
    stream_.socket().async_read_some(asio::buffer(scrap_),
                                     [self = shared_from_this()](error_code error, std::size_t) {
                                       error ? self->close() : self->watch_for_leaving();
                                     });
  }

  void close() {
    ended_ = true;
    if (heartbeat_) heartbeat_->cancel();
    error_code ignored;
    stream_.socket().shutdown(tcp::socket::shutdown_both, ignored);
    stream_.close();
  }

  beast::tcp_stream stream_;
  Shared& shared_;
  beast::flat_buffer buffer_;
  boost::optional<http::request_parser<http::string_body>> parser_;
  bool keep_alive_ = false;
  bool head_only_ = false;
  std::array<char, 1024> scrap_{};

  Response response_;
  using Message = http::response<http::span_body<const char>>;
  boost::optional<Message> message_;
  boost::optional<http::response_serializer<http::span_body<const char>>> serializer_;

  std::shared_ptr<EventStream> events_;
  boost::optional<asio::steady_timer> heartbeat_;
  std::string outgoing_;
  bool writing_ = false;
  bool ended_ = false;
};

class BeastServer final : public HttpServer {
 public:
  BeastServer(const HttpOptions& options, Handler handler, Refusal refusal)
      : handlers_(options.handler_threads), acceptor_(io_) {
    shared_.options = options;
    shared_.handler = std::move(handler);
    shared_.refusal = std::move(refusal);
    shared_.handlers = &handlers_;
  }

  Result<void> bind() {
    const HttpOptions& options = shared_.options;
    error_code error;
    const auto address = asio::ip::make_address(options.address, error);
    if (error) {
      return fail(ErrorCode::invalid_input, "this is no network address", options.address,
                  "Use 127.0.0.1.");
    }
    const tcp::endpoint endpoint(address, options.port);
    acceptor_.open(endpoint.protocol(), error);
    if (!error) acceptor_.set_option(tcp::acceptor::reuse_address(true), error);
    if (!error) acceptor_.bind(endpoint, error);
    if (!error) acceptor_.listen(128, error);
    if (!error) return {};
    const std::string where = format("{} port {}", options.address, options.port);
    if (error == asio::error::address_in_use) {
      return fail(ErrorCode::io, "the port is taken by another program", where,
                  "Stop that program, or choose another port with --port.");
    }
    return fail(ErrorCode::io, "the port cannot be opened: " + error.message(), where,
                "Choose another port with --port.");
  }

  [[nodiscard]] std::uint16_t port() const override {
    error_code ignored;
    return acceptor_.local_endpoint(ignored).port();
  }

  void run() override {
    accept();
    io_.run();
    handlers_.join();
  }

  void stop() override {
    asio::post(io_, [this] {
      error_code ignored;
      acceptor_.close(ignored);
      io_.stop();
    });
  }

 private:
  void accept() {
    acceptor_.async_accept([this](error_code error, tcp::socket socket) {
      if (!acceptor_.is_open()) return;
      if (error) {
        // Out of file descriptors, most likely: wait a little instead of spinning.
        pause_.expires_after(std::chrono::milliseconds(50));
        pause_.async_wait([this](error_code) { accept(); });
        return;
      }
      if (shared_.connections < shared_.options.most_connections) {
        socket.set_option(tcp::no_delay(true), error);
        std::make_shared<Connection>(std::move(socket), shared_)->start();
      }
      accept();
    });
  }

  // Connections refer to all of this, so the io context, which holds them, goes first.
  Shared shared_;
  asio::thread_pool handlers_;
  asio::io_context io_{1};
  tcp::acceptor acceptor_;
  asio::steady_timer pause_{io_};
};

}  // namespace

std::string_view Request::header(std::string_view name) const {
  for (const auto& [key, value] : headers) {
    if (key == name) return value;
  }
  return {};
}

Result<std::unique_ptr<HttpServer>> listen(const HttpOptions& options, HttpServer::Handler handler,
                                           HttpServer::Refusal refusal) {
  auto server = std::make_unique<BeastServer>(options, std::move(handler), std::move(refusal));
  if (auto bound = server->bind(); !bound) return Failure(bound.error());
  return server;
}

}  // namespace film::server
