#include "host/files.h"

#include <cerrno>
#include <cstring>
#include <fstream>

#include <fcntl.h>
#include <unistd.h>

#include "base/text.h"

namespace film::host {
namespace {

Failure io_failure(const std::filesystem::path& path, const char* doing) {
  return fail(ErrorCode::io, format("{} failed: {}", doing, std::strerror(errno)), path.string(),
              "Check the folder, its permissions and the free space");
}

bool write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(file, bytes.data(), bytes.size());
    if (written < 0 && errno != EINTR) return false;
    if (written > 0) bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

}  // namespace

Result<std::string> read_file(const std::filesystem::path& path, std::size_t limit) {
  std::error_code error;
  if (!std::filesystem::exists(path, error)) {
    return fail(ErrorCode::not_found, "there is no such file", path.string(), "Check the path");
  }
  if (std::filesystem::is_directory(path, error)) {
    return fail(ErrorCode::invalid_input, "this is a folder, not a file", path.string());
  }
  std::ifstream file(path, std::ios::binary);
  if (!file) return io_failure(path, "opening");
  std::string bytes;
  char block[1 << 16];
  while (file.read(block, sizeof block) || file.gcount() > 0) {
    bytes.append(block, static_cast<std::size_t>(file.gcount()));
    if (bytes.size() > limit) {
      return fail(ErrorCode::too_large, format("the file is larger than {} bytes", limit),
                  path.string(), "Reduce it or split it");
    }
  }
  if (file.bad()) return io_failure(path, "reading");
  return bytes;
}

Result<void> write_file(const std::filesystem::path& path, std::string_view bytes) {
  const std::string temporary = path.string() + format(".{}.part", ::getpid());
  const int file = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
  if (file < 0) return io_failure(path, "creating");
  const bool written = write_all(file, bytes) && ::fsync(file) == 0;
  const bool closed = ::close(file) == 0;
  if (!written || !closed || ::rename(temporary.c_str(), path.c_str()) != 0) {
    const Failure failure = io_failure(path, "writing");
    ::unlink(temporary.c_str());
    return failure;
  }
  return {};
}

}  // namespace film::host
