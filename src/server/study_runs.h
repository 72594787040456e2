#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "base/result.h"
#include "workbench/study_vehicle.h"

namespace film::server {

/// What is known of one panel under one film.
struct StudyLine {
  enum class State { waiting, ready, failed };

  std::string panel;
  State state = State::waiting;
  surface::Choice method = surface::Choice::precut;
  double stretch_most = 1;
  double stretch_least = 1;
  double finger_share = 0;
  double mark_share = 0;
  std::optional<Error> problem;
};

/// Studies of whole vehicles in the background, one vehicle and film at a time, on all cores but
/// at nobody's cost: a request for one panel is computed by itself. Thread-safe.
class StudyRuns {
 public:
  StudyRuns(workbench::Workbench& workbench, std::size_t threads);
  ~StudyRuns();  // stops and waits
  StudyRuns(const StudyRuns&) = delete;
  StudyRuns& operator=(const StudyRuns&) = delete;

  /// What is known so far; the first call begins the work. Errors: not_found, io.
  Result<std::vector<StudyLine>> lines(const std::string& vehicle, const std::string& film);

  void close();

 private:
  struct Run {
    std::string vehicle;
    std::string film;
    std::vector<StudyLine> lines;
  };

  void work();
  void finish_line(Run& run, const std::string& panel,
                   const Result<std::shared_ptr<const workbench::Study>>& study);

  workbench::Workbench& workbench_;
  const std::size_t threads_;
  std::mutex mutex_;
  std::condition_variable wake_;
  std::map<std::pair<std::string, std::string>, std::unique_ptr<Run>> runs_;
  std::deque<Run*> queue_;
  std::atomic<bool> closing_{false};
  std::thread thread_;
};

}  // namespace film::server
