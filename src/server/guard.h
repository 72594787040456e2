#pragma once

#include <optional>

#include "server/doorkeeper.h"
#include "server/http.h"

namespace film::server {

/// Refuses requests that a page from elsewhere could have made: a Host that is not one of the
/// place's names (DNS rebinding), a change whose Origin is not the server's own or whose body is
/// neither JSON, a zip file nor a picture (cross-site forms). A change that brings a session with
/// it must say where it comes from. None: the request may go on.
std::optional<Response> refuse_stranger(const Request& request, const Place& place);

/// Headers of every answer: nothing from elsewhere runs in the page, nobody frames it, nobody
/// guesses types.
void add_security_headers(Response& response);

}  // namespace film::server
