#pragma once

#include <string>

#include "cutting/profile.h"

namespace film::shop {

/// A plotter of the shop, or one way of running it, under an id.
struct KnifeProfile {
  std::string id;                    ///< stable: "wide-plotter"
  cutting::MachineProfile settings;  ///< its name is the one for people

  friend bool operator==(const KnifeProfile&, const KnifeProfile&) = default;
};

}  // namespace film::shop
