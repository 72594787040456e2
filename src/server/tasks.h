#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "server/http.h"

namespace film::server {

enum class TaskState { running, stopping, done, failed };
std::string_view name_of(TaskState state);

struct TaskProgress {
  std::string stage;
  double fraction = -1;
  double seconds = 0;  ///< since the task began
};

/// A task as anyone may see it.
struct TaskView {
  std::string id;
  std::string kind;
  std::string job;
  std::string film;
  TaskState state = TaskState::running;
  TaskProgress progress;
  std::optional<Error> problem;
};

/// What a task's work is lent: stop and progress as in Context, and a way to tell of a better
/// result on the way.
class TaskVoice {
 public:
  virtual ~TaskVoice() = default;
  [[nodiscard]] virtual bool stopped() const = 0;
  virtual void report(const Progress& progress) = 0;
  /// `text` makes the data of an event of that name from the seconds since the task began; only
  /// the newest is kept for late listeners.
  virtual void tell(std::string_view event, const std::function<std::string(double)>& text) = 0;
};

/// Long work, each on a thread of its own, followed by any number of listeners. Thread-safe.
class Tasks {
 public:
  using Work = std::function<Result<void>(TaskVoice&)>;
  /// Turns a task into the data of its last event.
  using Describe = std::function<std::string(const TaskView&)>;

  explicit Tasks(Describe describe);
  ~Tasks();  // stops everything and waits
  Tasks(const Tasks&) = delete;
  Tasks& operator=(const Tasks&) = delete;

  /// Errors: conflict (the same kind runs for this job and film already; too many run).
  Result<TaskView> start(const std::string& kind, const std::string& job, const std::string& film,
                         Work work);
  /// Errors: not_found.
  [[nodiscard]] Result<TaskView> find(const std::string& id) const;
  /// The id of the running task of that kind for the job and film, if there is one.
  [[nodiscard]] std::optional<std::string> find_running(const std::string& kind,
                                                        const std::string& job,
                                                        const std::string& film) const;
  /// Asks the work to stop; what it found so far is kept by the work itself. Errors: not_found.
  Result<TaskView> stop(const std::string& id);
  /// Events after the one numbered `last_event` (0: from the newest of each kind on).
  /// Errors: not_found.
  Result<std::shared_ptr<EventStream>> follow(const std::string& id, std::uint64_t last_event);

  [[nodiscard]] std::size_t running() const;
  /// Stops everything and waits; nothing starts afterwards.
  void close();

 private:
  class Task;

  [[nodiscard]] Result<std::shared_ptr<Task>> at(const std::string& id) const;
  void forget_old();

  Describe describe_;
  mutable std::mutex mutex_;
  bool closed_ = false;
  std::map<std::string, std::shared_ptr<Task>> tasks_;
  std::vector<std::string> order_;  // oldest first
};

}  // namespace film::server
