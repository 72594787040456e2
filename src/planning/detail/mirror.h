#pragma once

#include "planning/shop_model.h"

namespace film::planning::detail {

/// The shop with its time running backwards from `horizon`, the end of everybody's calendar or
/// later. What is placed as soon as possible there stands as late as possible here: justification
/// to the right over calendars.
Shop mirrored(const Shop& shop, Time horizon);

/// The job in such a shop; nothing of it ends after `end`. It promises nothing.
Job mirrored(const Job& job, Time horizon, Time end);

}  // namespace film::planning::detail
