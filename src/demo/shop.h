#pragma once

#include <string>
#include <vector>

#include "shop/film.h"
#include "shop/job.h"
#include "shop/offcut.h"
#include "shop/person.h"
#include "shop/price_list.h"
#include "shop/profile.h"
#include "shop/roll.h"
#include "shop/settings.h"
#include "shop/supply.h"
#include "shop/vehicle.h"

namespace film::demo {

/// The invented shop that stands round the demo vehicle. Shop, films, people and numbers are all
/// made up; widths of rolls and the length of film that a whole car takes are common practice.
struct Shop {
  shop::Settings settings;
  std::vector<shop::Film> films;
  std::vector<shop::Roll> rolls;
  std::vector<shop::Offcut> offcuts;
  std::vector<shop::Supply> supplies;
  std::vector<shop::KnifeProfile> profiles;
  std::vector<shop::Person> people;  ///< one of each role, the lead first; without passwords
  shop::PriceList prices;
};

Shop make_shop();

/// The order that a first look begins with: the whole vehicle, each surface in the film that suits
/// it. Left bare: rubber, and the glass that the driver looks ahead and aside through.
shop::Job make_job(const shop::VehicleModel& vehicle);

}  // namespace film::demo
