#pragma once

#include <cstddef>
#include <functional>
#include <string_view>
#include <utility>

namespace film {

/// How far a long computation is.
struct Progress {
  std::string_view stage;  ///< a few words, shown to people: "relaxing strain"
  double fraction = 0;     ///< 0 to 1 within the stage; negative when unknown
};

/// Runs independent work items, perhaps at the same time. Kernels never make threads; the caller
/// hands them an executor, and a kernel's result does not depend on how many threads it has.
class Executor {
 public:
  virtual ~Executor() = default;
  /// Calls `work(0) ... work(count - 1)`, each once, and returns when all are done.
  virtual void run(std::size_t count, const std::function<void(std::size_t)>& work) = 0;
  /// How many items may run at the same time (at least 1).
  [[nodiscard]] virtual std::size_t width() const = 0;
};

/// Runs the items one after another on the calling thread.
class SerialExecutor final : public Executor {
 public:
  void run(std::size_t count, const std::function<void(std::size_t)>& work) override;
  [[nodiscard]] std::size_t width() const override { return 1; }
};

/// What a caller lends a kernel: a way to ask for a stop, to hear of progress, and to run in
/// parallel. A default Context never stops, tells nobody and runs serially. A clock, if there is
/// one, sits behind the stop test, so kernels stay free of time. Both functions must be callable
/// from any thread of the executor.
class Context {
 public:
  using StopTest = std::function<bool()>;
  using ProgressSink = std::function<void(const Progress&)>;

  Context() = default;
  explicit Context(StopTest stop, ProgressSink sink = {}, Executor* executor = nullptr)
      : stop_(std::move(stop)), sink_(std::move(sink)), executor_(executor) {}

  /// True once the caller wants the kernel to end. A search returns its best answer so far; a
  /// computation that has no partial answer returns ErrorCode::cancelled.
  [[nodiscard]] bool stopped() const { return stop_ && stop_(); }

  void report(std::string_view stage, double fraction) const {
    if (sink_) sink_({stage, fraction});
  }

  [[nodiscard]] Executor& executor() const;

 private:
  StopTest stop_;
  ProgressSink sink_;
  Executor* executor_ = nullptr;  // borrowed; null means serial
};

}  // namespace film
