#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "server/access.h"
#include "server/http.h"

namespace film::server {

/// A request that found its route.
struct Call {
  const Request& request;
  std::map<std::string, std::string> path;   ///< by the names of the route's pattern, decoded
  std::map<std::string, std::string> query;  ///< only names that the route knows
  Caller caller = {};

  [[nodiscard]] const std::string& operator[](const std::string& name) const {
    return path.at(name);
  }
  /// The parameter of the query, or empty.
  [[nodiscard]] std::string parameter(const std::string& name) const;
};

/// Finds the route of a request. Patterns are fixed segments and `{names}`, perhaps with a fixed
/// ending: "/jobs/{job}/papers/{paper}.pdf". Fixed patterns are tried before open ones.
class Router {
 public:
  using Action = std::function<Response(const Call&)>;

  /// `query` names the parameters that the route takes.
  void add(std::string method, std::string_view pattern, std::vector<std::string> query,
           Action action);
  void get(std::string_view pattern, Action action) { add("GET", pattern, {}, std::move(action)); }
  void get(std::string_view pattern, std::vector<std::string> query, Action action) {
    add("GET", pattern, std::move(query), std::move(action));
  }
  void post(std::string_view pattern, Action action) {
    add("POST", pattern, {}, std::move(action));
  }

  /// Says who asks for the route of that pattern, or refuses.
  using Admit =
      std::function<std::variant<Caller, Response>(const Request&, std::string_view pattern)>;

  /// Answers with the route's action, or a problem: 404 (no such place), 405 (another method,
  /// told in Allow), what `admit` says, 400 (a broken escape, an unknown or repeated parameter).
  /// The action runs in the caller's name (workbench/acting.h).
  [[nodiscard]] Response answer(const Request& request, const Admit& admit) const;

  /// Method and pattern of every route.
  [[nodiscard]] std::vector<std::pair<std::string, std::string>> routes() const;

  /// The pattern that the request's path fits, for the metrics; empty when there is none.
  [[nodiscard]] std::string pattern_of(const Request& request) const;

 private:
  struct Segment {
    std::string prefix;  // fixed text, or what comes before the name
    std::string name;    // empty: the segment is fixed
    std::string suffix;
  };
  struct Route {
    std::string method;
    std::string pattern;
    std::vector<Segment> segments;
    std::vector<std::string> query;
    Action action;
  };

  static bool fits(const Route& route, const std::vector<std::string>& path,
                   std::map<std::string, std::string>& names);

  std::vector<Route> routes_;
};

/// The segments of a path, decoded. Errors: invalid_input (a broken escape, a segment "." or "..",
/// a slash, backslash or zero byte inside a segment).
Result<std::vector<std::string>> path_segments(std::string_view target);

}  // namespace film::server
