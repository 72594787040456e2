#pragma once

namespace film::bench {

// Figures of generated shops, each on lines of its own.
void report_answers();      ///< first plan, promise, rush at shop size
void report_proofs();       ///< impossible cases
void report_small();        ///< against every plan of small shops
void report_replans();      ///< what moves when a task grows
void report_calibration();  ///< promises kept over 1,000 simulated weeks

}  // namespace film::bench
