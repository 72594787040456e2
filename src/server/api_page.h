#pragma once

#include <string>
#include <string_view>

namespace film::server {

/// A plain page that lists the routes of an OpenAPI description: method, path, what it is for. It
/// reads the layout of docs/formats/openapi.yaml, two blanks a level, and uses no script.
std::string api_page(std::string_view yaml);

}  // namespace film::server
