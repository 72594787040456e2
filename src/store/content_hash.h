#pragma once

#include <string>
#include <string_view>

namespace film::store {

/// SHA-256 of the bytes in 64 lower-case hexadecimal digits: the name under which meshes, layouts
/// and cut files are kept. Source: FIPS PUB 180-4, "Secure Hash Standard", 2015, section 6.2.
std::string content_hash(std::string_view bytes);

}  // namespace film::store
