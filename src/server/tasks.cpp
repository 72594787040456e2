#include "server/tasks.h"

#include <algorithm>
#include <atomic>
#include <random>

#include "base/text.h"
#include "host/stop.h"
#include "server/json.h"
#include "workbench/acting.h"

namespace film::server {
namespace {

constexpr std::size_t kMostRunning = 4;
constexpr std::size_t kMostKept = 100;  // ended ones, so that a page can still ask
constexpr double kProgressEvery = 0.1;  // seconds; people do not read faster

/// Unguessable, and never the same after a restart.
std::string new_id() {
  std::random_device device;
  return format("T-{:08x}{:08x}", device(), device());
}

}  // namespace

std::string_view name_of(TaskState state) {
  switch (state) {
    case TaskState::running: return "running";
    case TaskState::stopping: return "stopping";
    case TaskState::done: return "done";
    case TaskState::failed: return "failed";
  }
  return "";
}

/// One task: what it says is kept as the newest event of each name, under one growing number.
class Tasks::Task final : public TaskVoice, public std::enable_shared_from_this<Task> {
 public:
  Task(TaskView view, const Describe& describe) : view_(std::move(view)), describe_(describe) {}

  void run(Work work) {
    thread_ = std::thread(
        [self = shared_from_this(), work = std::move(work), who = workbench::Acting::who()] {
          const workbench::Acting acting(who);
          Result<void> result;
          try {
            result = work(*self);
          } catch (const std::exception& error) {
            result = fail(ErrorCode::io, format("the program went wrong: {}", error.what()),
                          self->view_.kind, "Report this: it is a defect.");
          }
          self->end(result);
        });
  }

  void join() {
    if (thread_.joinable()) thread_.join();
  }

  [[nodiscard]] TaskView view() const {
    const std::lock_guard lock(mutex_);
    return view_;
  }

  [[nodiscard]] bool is_running() const {
    const std::lock_guard lock(mutex_);
    return !ended();
  }

  void request_stop() {
    stop_.store(true);
    const std::lock_guard lock(mutex_);
    if (!ended()) view_.state = TaskState::stopping;
  }

  // TaskVoice

  [[nodiscard]] bool stopped() const override { return stop_.load(); }

  void report(const Progress& progress) override {
    std::unique_lock lock(mutex_);
    const double seconds = watch_.seconds();
    const bool same_stage = view_.progress.stage == progress.stage;
    if (same_stage && seconds < next_progress_) return;
    next_progress_ = seconds + kProgressEvery;
    view_.progress = {std::string(progress.stage), progress.fraction, seconds};
    const Json data{
        {"stage", view_.progress.stage}, {"fraction", progress.fraction}, {"seconds", seconds}};
    add_event(lock, "progress", text_of(data));
  }

  void tell(std::string_view event, const std::function<std::string(double)>& text) override {
    const std::string data = text(watch_.seconds());
    std::unique_lock lock(mutex_);
    add_event(lock, event, data);
  }

  class Stream;
  std::shared_ptr<EventStream> follow(std::uint64_t last_event);

 private:
  struct Event {
    std::uint64_t number = 0;
    std::string name;
    std::string data;
  };

  [[nodiscard]] bool ended() const {
    return view_.state == TaskState::done || view_.state == TaskState::failed;
  }

  void end(const Result<void>& result) {
    std::unique_lock lock(mutex_);
    view_.state = result ? TaskState::done : TaskState::failed;
    if (!result) view_.problem = result.error();
    view_.progress.fraction = result ? 1 : view_.progress.fraction;
    view_.progress.seconds = watch_.seconds();
    add_event(lock, result ? "done" : "failed", describe_(view_));
  }

  /// Keeps the newest event of the name and wakes the listeners, without the lock.
  void add_event(std::unique_lock<std::mutex>& lock, std::string_view name, std::string data) {
    std::erase_if(events_, [name](const Event& event) { return event.name == name; });
    events_.push_back({++numbers_, std::string(name), std::move(data)});
    const auto wakes = wakes_;
    lock.unlock();
    for (const auto& [listener, wake] : wakes) wake();
  }

  const host::Stopwatch watch_;
  std::atomic<bool> stop_{false};
  mutable std::mutex mutex_;
  TaskView view_;
  const Describe& describe_;
  double next_progress_ = 0;
  std::vector<Event> events_;
  std::uint64_t numbers_ = 0;
  std::map<const void*, std::function<void()>> wakes_;  // by listener
  std::thread thread_;
};

class Tasks::Task::Stream final : public EventStream {
 public:
  Stream(std::shared_ptr<Task> task, std::uint64_t seen) : task_(std::move(task)), seen_(seen) {}
  ~Stream() override {
    const std::lock_guard lock(task_->mutex_);
    task_->wakes_.erase(this);
  }
  Stream(const Stream&) = delete;
  Stream& operator=(const Stream&) = delete;

  Batch next() override {
    const std::lock_guard lock(task_->mutex_);
    Batch batch;
    for (const Event& event : task_->events_) {
      if (event.number <= seen_) continue;
      batch.text += format("id: {}\nevent: {}\ndata: {}\n\n", event.number, event.name, event.data);
    }
    seen_ = task_->numbers_;
    batch.last = task_->ended();
    return batch;
  }

  void on_news(std::function<void()> wake) override {
    const std::lock_guard lock(task_->mutex_);
    task_->wakes_[this] = std::move(wake);
  }

 private:
  std::shared_ptr<Task> task_;
  std::uint64_t seen_;
};

std::shared_ptr<EventStream> Tasks::Task::follow(std::uint64_t last_event) {
  return std::make_shared<Stream>(shared_from_this(), last_event);
}

Tasks::Tasks(Describe describe) : describe_(std::move(describe)) {}

Tasks::~Tasks() { close(); }

void Tasks::close() {
  std::map<std::string, std::shared_ptr<Task>> all;
  {
    const std::lock_guard lock(mutex_);
    closed_ = true;
    all = tasks_;
  }
  for (const auto& [id, task] : all) task->request_stop();
  for (const auto& [id, task] : all) task->join();
}

Result<TaskView> Tasks::start(const std::string& kind, const std::string& job,
                              const std::string& film, Work work) {
  const std::lock_guard lock(mutex_);
  std::size_t running = closed_ ? kMostRunning : 0;
  for (const auto& [id, task] : tasks_) {
    if (!task->is_running()) continue;
    ++running;
    const TaskView view = task->view();
    if (view.kind == kind && view.job == job && view.film == film) {
      return fail(ErrorCode::conflict, "this is being done already", "task " + id,
                  "Follow that task, or stop it first.");
    }
  }
  if (running >= kMostRunning) {
    return fail(ErrorCode::conflict, "too much is being done at once", "tasks",
                "Wait until something is finished, or stop it.");
  }
  forget_old();
  TaskView view;
  view.id = new_id();
  view.kind = kind;
  view.job = job;
  view.film = film;
  const auto task = std::make_shared<Task>(view, describe_);
  tasks_[view.id] = task;
  order_.push_back(view.id);
  task->run(std::move(work));
  return task->view();
}

void Tasks::forget_old() {
  while (order_.size() >= kMostKept) {
    const auto oldest = std::find_if(order_.begin(), order_.end(), [this](const std::string& id) {
      return !tasks_.at(id)->is_running();
    });
    if (oldest == order_.end()) return;
    tasks_.at(*oldest)->join();
    tasks_.erase(*oldest);
    order_.erase(oldest);
  }
}

Result<std::shared_ptr<Tasks::Task>> Tasks::at(const std::string& id) const {
  const std::lock_guard lock(mutex_);
  const auto found = tasks_.find(id);
  if (found != tasks_.end()) return found->second;
  return fail(ErrorCode::not_found, "there is no such task", "task " + id,
              "It ended long ago, or the server was restarted: look at the job itself.");
}

Result<TaskView> Tasks::find(const std::string& id) const {
  const auto task = at(id);
  if (!task) return Failure(task.error());
  return (*task)->view();
}

std::optional<std::string> Tasks::find_running(const std::string& kind, const std::string& job,
                                               const std::string& film) const {
  const std::lock_guard lock(mutex_);
  for (const auto& [id, task] : tasks_) {
    const TaskView view = task->view();
    if (task->is_running() && view.kind == kind && view.job == job && view.film == film) return id;
  }
  return std::nullopt;
}

Result<TaskView> Tasks::stop(const std::string& id) {
  const auto task = at(id);
  if (!task) return Failure(task.error());
  (*task)->request_stop();
  return (*task)->view();
}

Result<std::shared_ptr<EventStream>> Tasks::follow(const std::string& id,
                                                   std::uint64_t last_event) {
  const auto task = at(id);
  if (!task) return Failure(task.error());
  return (*task)->follow(last_event);
}

std::size_t Tasks::running() const {
  const std::lock_guard lock(mutex_);
  return static_cast<std::size_t>(std::count_if(
      tasks_.begin(), tasks_.end(), [](const auto& task) { return task.second->is_running(); }));
}

}  // namespace film::server
