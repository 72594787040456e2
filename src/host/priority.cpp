#include "host/priority.h"

#include <sys/resource.h>
#include <unistd.h>

namespace film::host {

void give_way() {
  constexpr int kNiceness = 10;
  // On Linux niceness belongs to a thread, and new threads have that of the one that starts them.
  (void)::setpriority(PRIO_PROCESS, static_cast<id_t>(::gettid()), kNiceness);
}

}  // namespace film::host
