#pragma once

#include <string_view>
#include <vector>

namespace film::server {

/// A file of the web page as it sits in the executable.
struct EmbeddedFile {
  std::string_view path;  ///< "/index.html"
  const char* begin;      ///< gzip bytes
  const char* end;
};

/// Every file of the web page; defined by a source that the build makes from web/dist.
std::vector<EmbeddedFile> embedded_files();

}  // namespace film::server
