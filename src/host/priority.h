#pragma once

namespace film::host {

/// Lets whatever else wants the processors go first: from now on this thread, and those it starts,
/// run when others leave time. For long searches beside people who wait for a page. Where the
/// system does not allow it, nothing changes.
void give_way();

}  // namespace film::host
