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
  std::string address = "127.0.0.1";
  std::string public_address;  ///< of the proxy with TLS that stands before it, if one does
  std::uint16_t port = 8750;   ///< 0: any free one
  std::size_t threads = 2;
  std::string version;
  std::vector<EmbeddedFile> files;  ///< of the page
};

/// Where a server that takes connections is reached.
struct Serving {
  std::string address;      ///< "http://127.0.0.1:8750"
  std::string first_start;  ///< where the owner is made; empty when there are people already
};

/// Serves the workbench until `stopped` says so (asked a few times a second). `ready` is told once
/// connections are taken. Work that runs at the end is stopped and what it found is kept.
/// Errors: unsupported (the demo shop on an address that is not loopback), invalid_input (the
/// public address), io (the port is taken).
Result<void> serve(workbench::Workbench& workbench, const ServeOptions& options,
                   const std::function<void(const Serving&)>& ready,
                   const std::function<bool()>& stopped);

}  // namespace film::server
