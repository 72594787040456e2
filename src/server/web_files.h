#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "server/embedded.h"
#include "server/http.h"

namespace film::server {

/// The page's files by their exact path, so that no path can lead anywhere else. Paths of the
/// page's own routes ("/jobs/J-0001") get the page itself.
class WebFiles {
 public:
  explicit WebFiles(std::vector<EmbeddedFile> files);

  /// Answers a GET for anything outside the API.
  [[nodiscard]] Response answer(const Request& request) const;
  /// One file as plain bytes, or empty. For what the API serves of them.
  [[nodiscard]] std::string plain(std::string_view path) const;

 private:
  [[nodiscard]] Response send(const EmbeddedFile& file, const Request& request) const;

  std::map<std::string, EmbeddedFile, std::less<>> files_;
};

}  // namespace film::server
