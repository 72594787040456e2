#include "workbench/seed_demo.h"

#include "base/text.h"
#include "demo/shop.h"
#include "demo/vehicle.h"
#include "store/store.h"

namespace film::workbench {
namespace {

/// The demo shop in the book already, if it is there. Errors: conflict, when another shop is.
Result<DemoShop> find_demo(store::Book& book) {
  const auto settings = book.settings();
  if (settings && !settings->demo) {
    return fail(ErrorCode::conflict, format("the book belongs to {}", settings->name), "shop",
                "Choose an empty folder for the demo shop with --data.");
  }
  DemoShop demo;
  if (!settings) return demo;
  const auto vehicles = book.vehicles();
  const auto jobs = book.jobs();
  const auto profiles = book.profiles();
  if (!vehicles.empty()) demo.vehicle = vehicles.front().id;
  if (!jobs.empty()) demo.job = jobs.back().id;  // the oldest
  if (!profiles.empty()) demo.profile = profiles.front().id;
  return demo;
}

/// What the demo shop is made of must be as sound as what a person enters.
Result<void> check_all(const demo::Shop& shop) {
  if (auto sound = check(shop.settings); !sound) return sound;
  for (const auto& film : shop.films) {
    if (auto sound = check(film); !sound) return sound;
  }
  for (const auto& roll : shop.rolls) {
    if (auto sound = check(roll); !sound) return sound;
  }
  for (const auto& profile : shop.profiles) {
    if (auto sound = cutting::make_profile(profile.settings); !sound) return Failure(sound.error());
  }
  return {};
}

Result<DemoShop> fill(store::Book& book) {
  const demo::Shop shop = demo::make_shop();
  const shop::VehicleModel vehicle = demo::make_vehicle();
  shop::Job job = demo::make_job(vehicle);
  job.created = now();
  if (auto sound = check_all(shop); !sound) return Failure(sound.error());
  if (auto sound = check(job); !sound) return Failure(sound.error());
  book.put(shop.settings);
  for (const auto& film : shop.films) book.put(film);
  for (const auto& roll : shop.rolls) book.put(roll);
  for (const auto& profile : shop.profiles) book.put(profile);
  if (auto added = book.add(vehicle); !added) return Failure(added.error());
  job = book.add(std::move(job));
  book.append(job.id, {job.created, "demo", "opened",
                       format("{} panels of {}", job.scope.size(), job.vehicle)});
  return DemoShop{vehicle.id, job.id, shop.profiles.front().id};
}

}  // namespace

Result<DemoShop> seed_demo(Workbench& workbench) {
  return workbench.store().change([](store::Book& book) -> Result<DemoShop> {
    auto demo = find_demo(book);
    if (!demo || !demo->job.empty()) return demo;
    return fill(book);
  });
}

}  // namespace film::workbench
