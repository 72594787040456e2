#include "server/router.h"

#include <algorithm>
#include <optional>

#include "base/text.h"
#include "server/problem.h"
#include "workbench/acting.h"

namespace film::server {
namespace {

int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

std::optional<std::string> decoded(std::string_view text, bool plus_is_space) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '%') {
      if (i + 2 >= text.size()) return std::nullopt;
      const int high = hex_value(text[i + 1]);
      const int low = hex_value(text[i + 2]);
      if (high < 0 || low < 0) return std::nullopt;
      out += static_cast<char>(high * 16 + low);
      i += 2;
    } else {
      out += plus_is_space && text[i] == '+' ? ' ' : text[i];
    }
  }
  return out;
}

std::string_view path_part(std::string_view target) { return target.substr(0, target.find('?')); }

std::vector<std::string_view> split(std::string_view text, char at) {
  std::vector<std::string_view> parts;
  while (true) {
    const std::size_t end = text.find(at);
    parts.push_back(text.substr(0, end));
    if (end == std::string_view::npos) return parts;
    text.remove_prefix(end + 1);
  }
}

Failure bad_address(std::string what, std::string_view where) {
  return fail(ErrorCode::invalid_input, std::move(what), std::string(where),
              "Use the addresses of /api/v1/openapi.yaml.");
}

Result<std::map<std::string, std::string>> parameters(std::string_view target,
                                                      const std::vector<std::string>& known) {
  std::map<std::string, std::string> query;
  const std::size_t begin = target.find('?');
  if (begin == std::string_view::npos || begin + 1 == target.size()) return query;
  for (const std::string_view pair : split(target.substr(begin + 1), '&')) {
    const std::size_t equals = pair.find('=');
    const auto name = decoded(pair.substr(0, equals), true);
    const auto value =
        decoded(equals == std::string_view::npos ? "" : pair.substr(equals + 1), true);
    if (!name || !value) return bad_address("a parameter is escaped wrongly", pair);
    if (std::find(known.begin(), known.end(), *name) == known.end()) {
      return bad_address(format("there is no parameter '{}' here", *name), *name);
    }
    if (!query.emplace(*name, *value).second) {
      return bad_address(format("parameter '{}' is given twice", *name), *name);
    }
  }
  return query;
}

}  // namespace

std::string Call::parameter(const std::string& name) const {
  const auto found = query.find(name);
  return found == query.end() ? "" : found->second;
}

Result<std::vector<std::string>> path_segments(std::string_view target) {
  const std::string_view path = path_part(target);
  if (path.empty() || path.front() != '/') return bad_address("this is no path", path);
  std::vector<std::string> segments;
  for (const std::string_view part : split(path.substr(1), '/')) {
    const auto segment = decoded(part, false);
    if (!segment) return bad_address("the path is escaped wrongly", path);
    const bool strange = *segment == "." || *segment == ".." ||
                         segment->find_first_of(std::string_view("/\\\0", 3)) != std::string::npos;
    if (strange) return bad_address("the path has a part that names no place", path);
    segments.push_back(*segment);
  }
  return segments;
}

void Router::add(std::string method, std::string_view pattern, std::vector<std::string> query,
                 Action action) {
  Route route{std::move(method), std::string(pattern), {}, std::move(query), std::move(action)};
  for (const std::string_view part : split(pattern.substr(1), '/')) {
    const std::size_t open = part.find('{');
    const std::size_t close = part.find('}');
    if (open == std::string_view::npos) {
      route.segments.push_back({std::string(part), "", ""});
    } else {
      route.segments.push_back({std::string(part.substr(0, open)),
                                std::string(part.substr(open + 1, close - open - 1)),
                                std::string(part.substr(close + 1))});
    }
  }
  routes_.push_back(std::move(route));
  std::stable_sort(routes_.begin(), routes_.end(), [](const Route& a, const Route& b) {
    const auto open = [](const Segment& segment) { return !segment.name.empty(); };
    return std::count_if(a.segments.begin(), a.segments.end(), open) <
           std::count_if(b.segments.begin(), b.segments.end(), open);
  });
}

bool Router::fits(const Route& route, const std::vector<std::string>& path,
                  std::map<std::string, std::string>& names) {
  if (route.segments.size() != path.size()) return false;
  names.clear();
  for (std::size_t i = 0; i < path.size(); ++i) {
    const Segment& segment = route.segments[i];
    const std::string& text = path[i];
    if (segment.name.empty()) {
      if (text != segment.prefix) return false;
      continue;
    }
    const std::size_t fixed = segment.prefix.size() + segment.suffix.size();
    if (text.size() <= fixed || !text.starts_with(segment.prefix) ||
        !text.ends_with(segment.suffix)) {
      return false;
    }
    names[segment.name] = text.substr(segment.prefix.size(), text.size() - fixed);
  }
  return true;
}

Response Router::answer(const Request& request, const Admit& admit) const {
  const auto path = path_segments(request.target);
  if (!path) return problem(path.error());
  std::string allowed;
  std::map<std::string, std::string> names;
  for (const Route& route : routes_) {
    if (!fits(route, *path, names)) continue;
    if (route.method != request.method) {
      allowed += (allowed.empty() ? "" : ", ") + route.method;
      continue;
    }
    auto admitted = admit(request, route.pattern);
    if (auto* refusal = std::get_if<Response>(&admitted)) return std::move(*refusal);
    auto query = parameters(request.target, route.query);
    if (!query) return problem(query.error());
    auto& caller = std::get<Caller>(admitted);
    const workbench::Acting acting(caller.name);
    return route.action({request, std::move(names), std::move(*query), std::move(caller)});
  }
  if (allowed.empty()) {
    return problem(404, "not_found", "there is nothing here", path_part(request.target),
                   "Use the addresses of /api/v1/openapi.yaml.");
  }
  Response refusal =
      problem(405, "method_not_allowed", format("{} is not done here", request.method),
              path_part(request.target), "Use " + allowed + ".");
  refusal.headers.emplace_back("Allow", allowed);
  return refusal;
}

std::vector<std::pair<std::string, std::string>> Router::routes() const {
  std::vector<std::pair<std::string, std::string>> all;
  for (const Route& route : routes_) all.emplace_back(route.method, route.pattern);
  return all;
}

std::string Router::pattern_of(const Request& request) const {
  const auto path = path_segments(request.target);
  if (!path) return "";
  std::map<std::string, std::string> names;
  for (const Route& route : routes_) {
    if (fits(route, *path, names)) return route.pattern;
  }
  return "";
}

}  // namespace film::server
