#pragma once

namespace film::bench {

/// Plans of generated shops: times, answers at the counter, proofs, re-plans, calibration.
void report_shop();

}  // namespace film::bench
