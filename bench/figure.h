#pragma once

#include <cstdio>
#include <optional>
#include <string>

#include <nlohmann/json.hpp>

namespace film::bench {

/// One row of docs/evidence.md, as tools/evidence.py reads it: a JSON object on a line of stdout.
/// `met` is empty for what is reported without a target.
inline void say(const std::string& figure, const std::string& value, const std::string& target,
                const std::string& source, std::optional<bool> met) {
  const nlohmann::ordered_json row{{"figure", figure},
                                   {"value", value},
                                   {"target", target},
                                   {"source", source},
                                   {"met", met ? nlohmann::ordered_json(*met) : nullptr}};
  std::puts(row.dump().c_str());
  std::fflush(stdout);
}

}  // namespace film::bench
