#include "host/thread_executor.h"

#include "base/assert.h"

namespace film::host {

ThreadExecutor::ThreadExecutor(std::size_t threads) {
  FILM_ASSERT(threads >= 1);
  for (std::size_t i = 1; i < threads; ++i) workers_.emplace_back([this] { serve(); });
}

ThreadExecutor::~ThreadExecutor() {
  {
    const std::lock_guard lock(mutex_);
    closing_ = true;
  }
  wake_.notify_all();
  for (std::thread& worker : workers_) worker.join();
}

void ThreadExecutor::run(std::size_t count, const std::function<void(std::size_t)>& work) {
  std::unique_lock lock(mutex_);
  work_ = &work;
  count_ = count;
  next_ = 0;
  unfinished_ = count;
  wake_.notify_all();
  take_items(lock);
  done_.wait(lock, [this] { return unfinished_ == 0; });
  work_ = nullptr;
}

void ThreadExecutor::serve() {
  std::unique_lock lock(mutex_);
  for (;;) {
    wake_.wait(lock, [this] { return closing_ || (work_ && next_ < count_); });
    if (closing_) return;
    take_items(lock);
  }
}

void ThreadExecutor::take_items(std::unique_lock<std::mutex>& lock) {
  while (work_ && next_ < count_) {
    const auto* work = work_;
    const std::size_t item = next_++;
    lock.unlock();
    (*work)(item);
    lock.lock();
    if (--unfinished_ == 0) done_.notify_all();
  }
}

}  // namespace film::host
