#include "workbench/seed_demo.h"

#include "base/text.h"
#include "demo/shop.h"
#include "demo/vehicle.h"
#include "store/store.h"

namespace film::workbench {
namespace {

/// Optics of an invented film, as a layer of docs/formats/glass.md: even over the visible with a
/// tilt towards red, nearly nothing of the ultraviolet, and its own share of the infrared.
struct InventedFilm {
  const char* id;
  double visible, tilt, infrared, mirrored;
};
constexpr InventedFilm kInvented[] = {{"owlet-20", 0.19, 0.02, 0.42, 0.06},
                                      {"owlet-35", 0.36, 0.03, 0.50, 0.06},
                                      {"owlet-50", 0.52, 0.03, 0.58, 0.06},
                                      {"owlet-clear", 0.84, 0.00, 0.10, 0.07},
                                      {"moonbeam-clear", 0.89, 0.00, 0.88, 0.09}};

std::string layer_of(const InventedFilm& film) {
  std::string rows;
  const auto add = [&](int nm, double t) {
    rows += format("{}[{}, {:.4f}, {:.3f}]", rows.empty() ? "" : ", ", nm, t, film.mirrored);
  };
  add(300, 0.005);
  add(370, 0.01);
  for (int nm = 400; nm <= 780; nm += 20) {
    add(nm, film.visible + film.tilt * (nm - 560) / 200.0);
  }
  add(900, film.infrared);
  add(2500, film.infrared);
  return format(R"({{"kind": "film", "id": "{}", "index": 1.64, "spectrum": [{}]}})", film.id,
                rows);
}

/// What the demo's people read and signed: every lamp and sensor of the job, invented.
void sign(store::Book& book, const shop::Job& job, const shop::VehicleModel& vehicle) {
  for (const auto& open : shop::open_concerns(job, vehicle, {}, "")) {
    const bool sensor = open.concern == shop::Concern::sensor;
    book.append(job.id,
                shop::Decision{open.panel, open.concern, true, "Barnaby Quill",
                               sensor ? "Invented: letter of the vehicle's maker, 2031-04-28"
                                      : "Invented: clear film, light read before and after; "
                                        "inspection on 2031-05-02",
                               job.created});
  }
  for (const auto& item : job.scope) {
    const shop::Panel* panel = shop::find_panel(vehicle, item.panel);
    if (panel != nullptr && panel->finish == shop::Finish::glass) {
      book.append(job.id, shop::GlassReading{item.panel, shop::Stage::before, 0.74, 0.02,
                                             "Invented meter, checked 2031-04-30", "Barnaby Quill",
                                             job.created});
    }
  }
}

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
  for (const auto& person : shop.people) {
    if (auto sound = check(person); !sound) return sound;
  }
  for (const auto& offcut : shop.offcuts) {
    if (auto sound = check(offcut); !sound) return sound;
  }
  for (const auto& supply : shop.supplies) {
    if (auto sound = check(supply); !sound) return sound;
  }
  if (auto sound = check(shop.prices); !sound) return sound;
  for (const auto& profile : shop.profiles) {
    if (auto sound = cutting::make_profile(profile.settings); !sound) return Failure(sound.error());
  }
  return {};
}

Result<void> add_people(store::Book& book) {
  for (shop::Person person : demo::make_shop().people) {
    person.created = now();
    if (auto added = book.add(std::move(person)); !added) return Failure(added.error());
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
  for (const InventedFilm& film : kInvented) book.put_film_optics(film.id, layer_of(film));
  for (const auto& roll : shop.rolls) {
    if (auto in = book.receive(roll, "demo", job.created); !in) return Failure(in.error());
  }
  for (const auto& offcut : shop.offcuts) book.add(offcut, "demo", job.created);
  for (const auto& supply : shop.supplies) book.put(supply);
  for (const auto& profile : shop.profiles) book.put(profile);
  if (auto added = add_people(book); !added) return Failure(added.error());
  if (auto added = book.add(vehicle); !added) return Failure(added.error());
  shop::PriceList prices = shop.prices;
  prices.made = job.created;
  prices.who = "demo";
  if (auto kept = book.add(std::move(prices)); !kept) return Failure(kept.error());
  job = book.add(std::move(job));
  book.append(job.id, shop::HistoryEntry{job.created, "demo", "opened",
                                         format("{} panels of {}", job.scope.size(), job.vehicle)});
  sign(book, job, vehicle);
  return DemoShop{vehicle.id, job.id, shop.profiles.front().id};
}

}  // namespace

Result<DemoShop> seed_demo(Workbench& workbench) {
  return workbench.store().change([](store::Book& book) -> Result<DemoShop> {
    auto demo = find_demo(book);
    if (demo && !demo->job.empty() && book.people().empty()) {
      // made before there were people
      if (auto added = add_people(book); !added) return Failure(added.error());
    }
    if (!demo || !demo->job.empty()) return demo;
    return fill(book);
  });
}

}  // namespace film::workbench
