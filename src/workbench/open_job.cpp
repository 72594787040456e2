#include "workbench/open_job.h"

#include <algorithm>
#include <map>

#include "base/text.h"
#include "shop/names.h"
#include "store/store.h"

namespace film::workbench {
namespace {

/// Every panel is on the vehicle, every film in the book, and each film suits its panel.
Result<void> check_scope(store::Book& book, const shop::VehicleModel& vehicle,
                         const std::vector<shop::ScopeItem>& scope) {
  std::map<std::string, const shop::Panel*> panels;
  for (const auto& panel : vehicle.panels) panels[panel.id] = &panel;
  std::map<std::string, shop::Film> films;
  for (auto& film : book.films()) films.emplace(film.id, std::move(film));
  for (const auto& item : scope) {
    const auto panel = panels.find(item.panel);
    if (panel == panels.end()) {
      return fail(ErrorCode::not_found, "the vehicle has no such panel", "scope " + item.panel,
                  "Choose panels of the vehicle.");
    }
    const auto film = films.find(item.film);
    if (film == films.end()) {
      return fail(ErrorCode::not_found, format("there is no film '{}'", item.film),
                  "scope " + item.panel, "Choose one of the films in the book.");
    }
    if (!shop::suits(film->second, *panel->second)) {
      return fail(
          ErrorCode::invalid_input,
          format("{} is not made for {}", film->second.name, shop::name_of(panel->second->finish)),
          "scope " + item.panel, "Choose a film that suits the panel's finish.");
    }
  }
  return {};
}

}  // namespace

Result<shop::Job> open_job(Workbench& workbench, const NewJob& order, const std::string& who) {
  const auto vehicle = workbench.vehicle(order.vehicle);
  if (!vehicle) return Failure(vehicle.error());
  shop::Job job;
  job.title = order.title;
  job.customer = order.customer;
  job.vehicle = order.vehicle;
  job.vehicle_version = (*vehicle)->version;
  job.scope = order.scope;
  job.created = now();
  if (auto sound = shop::check(job); !sound) return Failure(sound.error());
  return workbench.store().change([&](store::Book& book) -> Result<shop::Job> {
    if (auto sound = check_scope(book, **vehicle, job.scope); !sound) return Failure(sound.error());
    shop::Job opened = book.add(job);
    book.append(opened.id, {opened.created, who, "opened",
                            format("{} panels of {}", opened.scope.size(), opened.vehicle)});
    return opened;
  });
}

}  // namespace film::workbench
