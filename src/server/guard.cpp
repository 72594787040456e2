#include "server/guard.h"

#include <algorithm>

#include "server/problem.h"

namespace film::server {
namespace {

// Inline styles are set by the page's component library; scripts are the server's own only.
constexpr std::string_view kContentPolicy =
    "default-src 'self'; script-src 'self'; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data: blob:; connect-src 'self' blob:; worker-src 'self' blob:; "
    "object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

/// "127.0.0.1:8750" without its port.
std::string_view host_name(std::string_view host) {
  if (!host.empty() && host.front() == '[') return host.substr(0, host.find(']') + 1);
  return host.substr(0, host.find(':'));
}

bool is_loopback(std::string_view name) {
  return name == "127.0.0.1" || name == "localhost" || name == "[::1]";
}

/// Media types that a form of another site cannot send.
bool is_sent_by_programs(std::string_view type) {
  const std::string_view media = type.substr(0, type.find(';'));
  const std::string_view name = media.substr(0, media.find_last_not_of(' ') + 1);
  return name == "application/json" || name == "application/zip" || name == "image/jpeg" ||
         name == "image/png" || name == "text/csv";
}

/// "https://shop.example:444" without its scheme.
std::string_view host_of(std::string_view address) {
  const std::size_t start = address.find("://");
  return start == std::string_view::npos ? "" : address.substr(start + 3);
}

bool is_name(std::string_view host) {
  return !host.empty() && host.find_first_not_of(
                              "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVW"
                              "XYZ0123456789.-:[]") == std::string_view::npos;
}

/// Listening on the network without a proxy, the server cannot know its names; sessions, which are
/// bound to the name, guard it then.
bool answers_to(std::string_view host, const Place& place) {
  if (is_loopback(host_name(host))) return true;
  if (!place.public_address.empty()) return host == host_of(place.public_address);
  return !place.loopback && is_name(host);
}

}  // namespace

std::optional<Response> refuse_stranger(const Request& request, const Place& place) {
  const auto hosts = std::count_if(request.headers.begin(), request.headers.end(),
                                   [](const auto& header) { return header.first == "host"; });
  const std::string_view host = request.header("host");
  if (hosts != 1 || !answers_to(host, place)) {
    return problem(403, "forbidden", "this server does not answer to this name", "Host header",
                   "Open it with the address it printed.");
  }
  if (request.method == "GET") return std::nullopt;
  const std::string_view origin = request.header("origin");
  const std::string_view site = request.header("sec-fetch-site");
  if (origin.empty() && site.empty() && !request.header("cookie").empty()) {
    return problem(403, "forbidden", "a change with a session must say where it comes from",
                   "Origin header", "Send the server's own address as Origin.");
  }
  const bool own = origin == place.public_address || origin == "http://" + std::string(host);
  if (!origin.empty() && !own) {
    return problem(403, "forbidden", "a page from elsewhere may change nothing here",
                   "Origin header", "Use the page that this server shows.");
  }
  if (!site.empty() && site != "same-origin" && site != "none") {
    return problem(403, "forbidden", "a page from elsewhere may change nothing here",
                   "Sec-Fetch-Site header", "Use the page that this server shows.");
  }
  const bool has_body = request.method != "DELETE" || !request.body.empty();
  if (has_body && !is_sent_by_programs(request.header("content-type"))) {
    return problem(
        415, "unsupported_media",
        "a change is sent as JSON, a library as a zip file, a photo as JPEG or PNG, a table as CSV",
        "Content-Type header",
        "Send Content-Type: application/json, application/zip, image/jpeg, "
        "image/png or text/csv.");
  }
  return std::nullopt;
}

void add_security_headers(Response& response) {
  const std::pair<const char*, std::string_view> headers[] = {
      {"Content-Security-Policy", kContentPolicy},
      {"X-Content-Type-Options", "nosniff"},
      {"X-Frame-Options", "DENY"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Permissions-Policy", "camera=(self), microphone=(), geolocation=()"},
  };
  for (const auto& [name, value] : headers) response.headers.emplace_back(name, value);
}

}  // namespace film::server
