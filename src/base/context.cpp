#include "base/context.h"

namespace film {

void SerialExecutor::run(std::size_t count, const std::function<void(std::size_t)>& work) {
  for (std::size_t i = 0; i < count; ++i) work(i);
}

Executor& Context::executor() const {
  static SerialExecutor serial;  // has no state: sharing it is safe
  return executor_ ? *executor_ : serial;
}

}  // namespace film
