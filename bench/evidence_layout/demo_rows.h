#pragma once

namespace film::bench {

/// The demo vehicle on a 60 in roll, and a body of 105 pieces over time.
void demo_vehicle();

}  // namespace film::bench
