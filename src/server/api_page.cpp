#include "server/api_page.h"

#include <sstream>

namespace film::server {
namespace {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default: out += c;
    }
  }
  return out;
}

/// What stands after `key` on a line that begins with it; empty otherwise.
std::string_view value_of(std::string_view line, std::string_view key) {
  return line.substr(0, key.size()) == key ? line.substr(key.size()) : std::string_view();
}

bool is_method(std::string_view name) {
  return name == "get:" || name == "post:" || name == "put:" || name == "delete:" ||
         name == "patch:";
}

constexpr std::string_view kHead =
    "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>Filmwright API</title>"
    "<meta name=\"viewport\" content=\"width=device-width\"></head><body>"
    "<h1>Filmwright API</h1><p>Described in <a href=\"openapi.yaml\">openapi.yaml</a> (OpenAPI 3). "
    "All paths begin with <code>/api/v1</code>.</p><table><thead><tr><th align=\"left\">Method</th>"
    "<th align=\"left\">Path</th><th align=\"left\">What it does</th></tr></thead><tbody>\n";

}  // namespace

std::string api_page(std::string_view yaml) {
  std::string page(kHead);
  std::istringstream lines{std::string(yaml)};
  bool in_paths = false;
  std::string path;
  std::string method;
  for (std::string line; std::getline(lines, line);) {
    if (!line.empty() && line[0] != ' ') in_paths = line == "paths:";
    if (!in_paths) continue;
    if (line.substr(0, 3) == "  /" && line.back() == ':') {
      path = line.substr(2, line.size() - 3);
    } else if (line.substr(0, 4) == "    " && is_method(std::string_view(line).substr(4))) {
      method = line.substr(4, line.size() - 5);
    } else if (const auto summary = value_of(line, "      summary: "); !summary.empty()) {
      page += "<tr><td><code>" + escaped(method) + "</code></td><td><code>" + escaped(path) +
              "</code></td><td>" + escaped(summary) + "</td></tr>\n";
    }
  }
  return page + "</tbody></table></body></html>\n";
}

}  // namespace film::server
