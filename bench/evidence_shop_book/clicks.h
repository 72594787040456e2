#pragma once

namespace film::bench {

/// How long the price of the demo vehicle takes at each click, and the first one after a start.
void measure_clicks();

}  // namespace film::bench
