#pragma once

#include <condition_variable>
#include <cstddef>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

#include "base/context.h"

namespace film::host {

/// An Executor on threads of its own. Not reentrant: work must not call `run` again.
class ThreadExecutor final : public Executor {
 public:
  /// `threads` >= 1; the calling thread is one of them.
  explicit ThreadExecutor(std::size_t threads);
  ~ThreadExecutor() override;
  ThreadExecutor(const ThreadExecutor&) = delete;
  ThreadExecutor& operator=(const ThreadExecutor&) = delete;

  void run(std::size_t count, const std::function<void(std::size_t)>& work) override;
  [[nodiscard]] std::size_t width() const override { return workers_.size() + 1; }

 private:
  void serve();
  void take_items(std::unique_lock<std::mutex>& lock);

  std::mutex mutex_;
  std::condition_variable wake_;
  std::condition_variable done_;
  const std::function<void(std::size_t)>* work_ = nullptr;
  std::size_t count_ = 0;
  std::size_t next_ = 0;
  std::size_t unfinished_ = 0;
  bool closing_ = false;
  std::vector<std::thread> workers_;
};

}  // namespace film::host
