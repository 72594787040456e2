#include "store/acting.h"

#include <utility>

namespace film::store {
namespace {

// A change may pass through code that knows nothing of people; the thread carries the name past it.
thread_local std::string acting;

}  // namespace

Acting::Acting(std::string who) : before_(std::exchange(acting, std::move(who))) {}
Acting::~Acting() { acting = std::move(before_); }
const std::string& Acting::who() { return acting; }

}  // namespace film::store
