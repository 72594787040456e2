#pragma once

// The rows of the surface topic that have a file of their own.
namespace film::bench {

/// Neutral flattening of large panels, beside the peer where it is there.
void speed();

/// Warm re-solves after moving one cut.
void warm();

/// Every panel of the demo vehicle: flat, strain, reach, relief, seams, method, bulk plan.
void demo_vehicle();

}  // namespace film::bench
