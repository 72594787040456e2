#pragma once

namespace film::bench {

/// The regression against NIST's sets, intervals against shops of known truth.
void measure_hours();

}  // namespace film::bench
