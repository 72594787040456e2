#pragma once

#include <string_view>

#include "base/result.h"
#include "server/http.h"

namespace film::server {

/// The failure as problem JSON {code, message, where, remedy} with the status for its code.
Response problem(const Error& error);

/// A failure of the exchange itself, which has no ErrorCode. `code` as in openapi.yaml.
Response problem(int status, std::string_view code, std::string_view message,
                 std::string_view where, std::string_view remedy);

}  // namespace film::server
