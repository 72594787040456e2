#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"
#include "spool/run.h"

namespace film::spool {

/// Where a run's entries are kept. What `note` returned as done is on the disk.
class Journal {
 public:
  virtual ~Journal() = default;
  virtual Result<void> note(const Entry& entry) = 0;
};

/// A journal in a file of its own: a heading, one line, then an entry a line, each written and
/// flushed to the disk before `note` returns. A line that a power cut left without its end is
/// dropped: what it would have told had not been acted on. docs/formats/run.md.
class FileJournal final : public Journal {
 public:
  /// Errors: conflict (the file is there already), io.
  static Result<FileJournal> create(const std::filesystem::path& file, const std::string& heading);
  /// Errors: not_found, invalid_input (a line that is no entry), conflict (in use by another
  /// process), io.
  static Result<FileJournal> open(const std::filesystem::path& file);

  FileJournal(FileJournal&& other) noexcept;
  FileJournal& operator=(FileJournal&& other) = delete;
  FileJournal(const FileJournal&) = delete;
  FileJournal& operator=(const FileJournal&) = delete;
  ~FileJournal() override;

  [[nodiscard]] const std::string& heading() const { return heading_; }
  /// As they were when the journal was opened.
  [[nodiscard]] const std::vector<Entry>& entries() const { return entries_; }

  Result<void> note(const Entry& entry) override;

 private:
  explicit FileJournal(std::filesystem::path file) : file_(std::move(file)) {}
  Result<void> append(const std::string& line);
  [[nodiscard]] Failure failed(std::string_view what) const;

  std::filesystem::path file_;
  std::string heading_;
  std::vector<Entry> entries_;
  int fd_ = -1;
};

}  // namespace film::spool
