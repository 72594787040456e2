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
         name == "image/png";
}

}  // namespace

std::optional<Response> refuse_stranger(const Request& request) {
  const auto hosts = std::count_if(request.headers.begin(), request.headers.end(),
                                   [](const auto& header) { return header.first == "host"; });
  const std::string_view host = request.header("host");
  if (hosts != 1 || !is_loopback(host_name(host))) {
    return problem(403, "forbidden", "this server answers only on this machine", "Host header",
                   "Open it as http://127.0.0.1 with the port it printed.");
  }
  if (request.method == "GET") return std::nullopt;
  const std::string_view origin = request.header("origin");
  if (!origin.empty() && origin != "http://" + std::string(host)) {
    return problem(403, "forbidden", "a page from elsewhere may change nothing here",
                   "Origin header", "Use the page that this server shows.");
  }
  const std::string_view site = request.header("sec-fetch-site");
  if (!site.empty() && site != "same-origin" && site != "none") {
    return problem(403, "forbidden", "a page from elsewhere may change nothing here",
                   "Sec-Fetch-Site header", "Use the page that this server shows.");
  }
  const bool has_body = request.method != "DELETE" || !request.body.empty();
  if (has_body && !is_sent_by_programs(request.header("content-type"))) {
    return problem(415, "unsupported_media",
                   "a change is sent as JSON, a library as a zip file, a photo as JPEG or PNG",
                   "Content-Type header",
                   "Send Content-Type: application/json, application/zip, image/jpeg or "
                   "image/png.");
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
      {"Permissions-Policy", "camera=(), microphone=(), geolocation=()"},
  };
  for (const auto& [name, value] : headers) response.headers.emplace_back(name, value);
}

}  // namespace film::server
