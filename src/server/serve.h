#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "base/result.h"
#include "server/embedded.h"
#include "workbench/workbench.h"

namespace film::server {

struct ServeOptions {
  std::string address = "127.0.0.1";  ///< a loopback address: there are no users to ask for yet
  std::uint16_t port = 8750;          ///< 0: any free one
  std::size_t threads = 2;
  std::string version;
  std::vector<EmbeddedFile> files;  ///< of the page
};

/// Serves the workbench until `stopped` says so (asked a few times a second). `ready` is told the
/// address, "http://127.0.0.1:8750", once connections are taken. Work that runs at the end is
/// stopped and what it found is kept.
/// Errors: unsupported (an address that is not loopback), io (the port is taken).
Result<void> serve(workbench::Workbench& workbench, const ServeOptions& options,
                   const std::function<void(const std::string& address)>& ready,
                   const std::function<bool()>& stopped);

}  // namespace film::server
