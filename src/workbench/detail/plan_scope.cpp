#include "workbench/detail/plan_scope.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <utility>
#include <vector>

#include "geometry/trimesh.h"
#include "hours/model.h"
#include "store/store.h"
#include "workbench/detail/learnt.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/piece_facts.h"
#include "workbench/price_list.h"

namespace film::workbench {
namespace {

using namespace planning;

/// From about this on two people lay a panel (practice, no source).
constexpr double kTwoPeopleSquareMetres = 1.0;

double edge_length(const shop::Panel& panel) {
  double length = 0;
  for (const auto& edge : panel.edges) {
    for (std::size_t k = 1; k < edge.path.size(); ++k) {
      length +=
          distance(panel.surface.points[edge.path[k - 1]], panel.surface.points[edge.path[k]]);
    }
  }
  return length / 1000;
}

/// What laying the panel takes: by its pieces where they are known, else by its surface and edges.
Result<hours::Amounts> amounts_of(const Workbench& workbench, const shop::VehicleModel& vehicle,
                                  const shop::Panel& panel, const std::string& film,
                                  Mm side_margins) {
  const auto terms = study_terms(workbench, vehicle.id, vehicle.version, film);
  if (terms) {
    const auto facts =
        piece_facts(workbench, *terms, side_margins, panel, Studying::never, Context());
    if (facts && *facts) return (*facts)->amounts;
    if (!facts && facts.error().code == ErrorCode::io) return Failure(facts.error());
  }
  hours::Amounts amounts = amounts_of_surface(panel);
  amounts[static_cast<std::size_t>(hours::Term::tuck)] = edge_length(panel);
  return amounts;
}

/// The work as the planner takes it, with the spread the hours model expects.
ZoneWork work_of(const hours::Model& model, const std::string& name,
                 const std::vector<hours::Amounts>& pieces, bool bulk) {
  const hours::Prediction minutes = model.estimate(pieces, "").minutes;
  // Student's t has a standard deviation from three degrees on.
  const double degrees = std::max(3.0, minutes.degrees);
  const double deviation = minutes.scale * std::sqrt(degrees / (degrees - 2));
  return {name, std::max(0.1, minutes.mean / 60),
          std::clamp(deviation / std::max(1.0, minutes.mean), 0.05, 1.0), bulk};
}

bool is_glass(const shop::Panel& panel) { return panel.finish == shop::Finish::glass; }

bool is_lamp(const shop::Panel& panel) {
  return panel.finish == shop::Finish::lamp || panel.finish == shop::Finish::reflector;
}

struct Ground {
  std::shared_ptr<const OfferCache::Learnt> learnt;
  Mm side_margins;
};

Result<Ground> ground_of(Workbench& workbench) {
  const auto list = price_list(workbench);
  if (!list) return Failure(list.error());
  auto learnt = learnt_model(workbench, list->hours);
  if (!learnt) return Failure(learnt.error());
  const auto margins =
      workbench.store().look([](store::Book& book) { return knife_margins(book); });
  if (!margins) return Failure(margins.error());
  return Ground{*std::move(learnt), margins->low + margins->high};
}

}  // namespace

Result<Scope> plan_scope(Workbench& workbench, const shop::VehicleModel& vehicle,
                         const std::vector<shop::ScopeItem>& items) {
  const auto ground = ground_of(workbench);
  if (!ground) return Failure(ground.error());
  const hours::Model& model = ground->learnt->model;
  Scope scope;
  std::map<std::string, std::pair<std::vector<hours::Amounts>, bool>> zones;
  for (const auto& item : items) {
    const shop::Panel* panel = shop::find_panel(vehicle, item.panel);
    if (panel == nullptr) continue;
    const auto amounts = amounts_of(workbench, vehicle, *panel, item.film, ground->side_margins);
    if (!amounts) return Failure(amounts.error());
    scope.badges = scope.badges || panel->badge;
    if (is_glass(*panel) || is_lamp(*panel)) {
      (is_glass(*panel) ? scope.windows : scope.lamps)
          .push_back(work_of(model, panel->name, {*amounts}, false));
      continue;
    }
    auto& zone = zones[panel->zone];
    zone.first.push_back(*amounts);
    zone.second = zone.second || surface_area(panel->surface) / 1e6 >= kTwoPeopleSquareMetres;
  }
  for (const auto& [name, work] : zones) {
    scope.zones.push_back(work_of(model, name, work.first, work.second));
  }
  return scope;
}

Result<PanelWork> panel_work(Workbench& workbench, const shop::VehicleModel& vehicle,
                             const std::vector<shop::ScopeItem>& items, const shop::Panel& panel) {
  if (is_glass(panel) || is_lamp(panel)) return PanelWork{panel.name, 1};
  const auto ground = ground_of(workbench);
  if (!ground) return Failure(ground.error());
  std::vector<hours::Amounts> own, all;
  for (const auto& item : items) {
    const shop::Panel* other = shop::find_panel(vehicle, item.panel);
    if (other == nullptr || other->zone != panel.zone || is_glass(*other) || is_lamp(*other)) {
      continue;
    }
    const auto amounts = amounts_of(workbench, vehicle, *other, item.film, ground->side_margins);
    if (!amounts) return Failure(amounts.error());
    all.push_back(*amounts);
    if (other == &panel) own.push_back(*amounts);
  }
  const hours::Model& model = ground->learnt->model;
  const double whole = model.estimate(all, "").minutes.mean;
  const double part = model.estimate(own, "").minutes.mean;
  return PanelWork{panel.zone, whole > 0 ? std::clamp(part / whole, 0.0, 1.0) : 1};
}

}  // namespace film::workbench
