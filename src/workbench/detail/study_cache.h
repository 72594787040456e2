#pragma once

#include <condition_variable>
#include <cstddef>
#include <functional>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <string>

#include "base/result.h"
#include "workbench/study_panel.h"

namespace film::workbench {

/// The studies used last, by what they depend on, so that a page that asks again waits for
/// nothing. Two that ask for the same at once share one computation. Thread-safe.
class StudyCache {
 public:
  using Answer = Result<std::shared_ptr<const Study>>;

  /// The study of that key, made by `make` when it is not known. A failure is not remembered.
  Answer find_or_make(const std::string& key, const std::function<Answer()>& make);

  /// The study of that key if it is known.
  [[nodiscard]] std::shared_ptr<const Study> find(const std::string& key);

 private:
  // A vehicle under four films; a study of a large panel takes about 1 MB.
  static constexpr std::size_t kMost = 500;

  struct Entry {
    std::shared_ptr<const Study> study;
    std::list<std::string>::iterator use;
  };

  std::shared_ptr<const Study> touch(const std::string& key);

  std::mutex mutex_;
  std::condition_variable made_;
  std::map<std::string, Entry> known_;
  std::list<std::string> uses_;  // the latest first
  std::set<std::string> making_;
};

}  // namespace film::workbench
