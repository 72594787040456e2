#pragma once

#include <optional>

#include "server/http.h"

namespace film::server {

/// Refuses requests that a page from elsewhere could have made while there are no users to ask for:
/// a Host that is no loopback name (DNS rebinding), a change whose Origin is not the server's own
/// or whose body is neither JSON, a zip file nor a picture (cross-site forms). None: the request
/// may go on.
std::optional<Response> refuse_stranger(const Request& request);

/// Headers of every answer: nothing from elsewhere runs in the page, nobody frames it, nobody
/// guesses types.
void add_security_headers(Response& response);

}  // namespace film::server
