#pragma once

namespace film::bench {

/// What a budget of seconds counts.
enum class Clock {
  wall,
  processor,  ///< what two threads use of their cores, half each (bench/processor_time.h)
};

/// How well the demo vehicle's pieces lie on a roll.
void demo_vehicle(Clock clock);

/// A body of 105 pieces after 1, 10, 60 and 300 s.
void whole_body(Clock clock);

}  // namespace film::bench
