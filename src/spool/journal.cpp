#include "spool/journal.h"

#include <cerrno>
#include <cstring>
#include <utility>

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include "base/text.h"
#include "host/files.h"

namespace film::spool {

Failure FileJournal::failed(std::string_view what) const {
  return fail(errno == ENOENT ? ErrorCode::not_found : ErrorCode::io,
              format("{}: {}", what, std::strerror(errno)), file_.string(),
              "Make room on the disk or choose another place for the journal");
}

Result<FileJournal> FileJournal::create(const std::filesystem::path& file,
                                        const std::string& heading) {
  FileJournal journal(file);
  journal.fd_ = ::open(file.c_str(), O_RDWR | O_CREAT | O_EXCL | O_APPEND | O_CLOEXEC, 0666);
  if (journal.fd_ < 0 && errno == EEXIST) {
    return fail(ErrorCode::conflict, "there is a journal already", file.string(),
                "Resume that run, or choose another file for the new one");
  }
  if (journal.fd_ < 0) return journal.failed("the journal cannot be made");
  ::flock(journal.fd_, LOCK_EX | LOCK_NB);
  journal.heading_ = heading;
  if (auto written = journal.append(heading); !written) {
    ::unlink(file.c_str());
    return Failure(written.error());
  }
  // The new name must outlive a power cut too.
  const auto parent = file.parent_path();
  const int folder =
      ::open(parent.empty() ? "." : parent.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (folder >= 0) {
    ::fsync(folder);
    ::close(folder);
  }
  return journal;
}

Result<FileJournal> FileJournal::open(const std::filesystem::path& file) {
  FileJournal journal(file);
  journal.fd_ = ::open(file.c_str(), O_RDWR | O_APPEND | O_CLOEXEC);
  if (journal.fd_ < 0) return journal.failed("the journal cannot be opened");
  if (::flock(journal.fd_, LOCK_EX | LOCK_NB) != 0) {
    return fail(ErrorCode::conflict, "this run is being sent by another process", file.string(),
                "Wait until it has ended");
  }
  const auto bytes = host::read_file(file);
  if (!bytes) return Failure(bytes.error());
  std::size_t at = 0;
  for (std::size_t number = 0;; ++number) {
    const std::size_t end = bytes->find('\n', at);
    if (end == std::string::npos) break;
    const std::string_view line = std::string_view(*bytes).substr(at, end - at);
    at = end + 1;
    if (number == 0) {
      journal.heading_ = line;
      continue;
    }
    auto entry = entry_from(line);
    if (!entry) return Failure(entry.error());
    journal.entries_.push_back(std::move(*entry));
  }
  if (journal.heading_.empty()) {
    return fail(ErrorCode::invalid_input, "this is no journal", file.string());
  }
  if (at < bytes->size() && ::ftruncate(journal.fd_, static_cast<off_t>(at)) != 0) {
    return journal.failed("the journal cannot be mended");
  }
  return journal;
}

FileJournal::FileJournal(FileJournal&& other) noexcept
    : file_(std::move(other.file_)),
      heading_(std::move(other.heading_)),
      entries_(std::move(other.entries_)),
      fd_(std::exchange(other.fd_, -1)) {}

FileJournal::~FileJournal() {
  if (fd_ >= 0) ::close(fd_);
}

Result<void> FileJournal::note(const Entry& entry) { return append(text_of(entry)); }

Result<void> FileJournal::append(const std::string& text) {
  const std::string line = text + "\n";
  const off_t before = ::lseek(fd_, 0, SEEK_END);
  std::size_t at = 0;
  while (at < line.size()) {
    const ssize_t put = ::write(fd_, line.data() + at, line.size() - at);
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) {
      const auto failure = failed("the journal cannot be written");
      // Half a line would swallow the next one.
      if (at > 0 && ::ftruncate(fd_, before) != 0) return failure;
      return failure;
    }
    at += static_cast<std::size_t>(put);
  }
  if (::fdatasync(fd_) != 0) return failed("the journal cannot be written");
  return {};
}

}  // namespace film::spool
