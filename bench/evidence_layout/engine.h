#pragma once

namespace film::bench {

/// The collision engine against a plain exact polygon library.
void collision_engine();

}  // namespace film::bench
