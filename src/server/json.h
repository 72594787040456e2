#pragma once

#include <string>

#include <nlohmann/json.hpp>

#include "server/http.h"

// Included by sources of this folder only: the JSON library is slow to compile.

namespace film::server {

using Json = nlohmann::ordered_json;

/// As text; bytes that are no UTF-8 are replaced, so that an echo of them cannot fail.
inline std::string text_of(const Json& value) {
  return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// An answer of JSON. It tells of records that change, so nobody keeps it.
inline Response json_response(const Json& value, int status = 200) {
  Response response;
  response.status = status;
  response.headers = {{"Content-Type", "application/json"}, {"Cache-Control", "no-store"}};
  response.body = text_of(value);
  return response;
}

}  // namespace film::server
