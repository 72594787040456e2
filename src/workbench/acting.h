#pragma once

#include "store/acting.h"

namespace film::workbench {

using store::Acting;

}  // namespace film::workbench
