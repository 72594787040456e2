#include "workbench/job_glass.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.h"
#include "exchange/glass_json.h"
#include "glazing/glass_kind.h"
#include "glazing/stack.h"
#include "shop/names.h"
#include "store/store.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "workbench/detail/lookup.h"
#include "workbench/limits.h"

namespace film::workbench {
namespace {

using glazing::Position;
using glazing::Ranged;

/// Mean outward direction and middle of a panel, weighted by area.
struct Facing {
  Vec3 normal;
  Vec3 middle;
  double front = 0;  ///< its foremost x
  double area = 0;   ///< mm^2
};

Facing facing_of(const TriMesh& mesh) {
  Facing facing;
  facing.front = -1e9;
  for (const Triangle& t : mesh.triangles) {
    const Vec3 a = area_vector(mesh, t);
    const double area = length(a) / 2;
    facing.normal += a;
    facing.middle += (area / 3) * (mesh.points[t[0]] + mesh.points[t[1]] + mesh.points[t[2]]);
    facing.area += area;
  }
  for (const Vec3& p : mesh.points) facing.front = std::max(facing.front, p.x);
  if (facing.area > 0) facing.middle = (1 / facing.area) * facing.middle;
  const double whole = length(facing.normal);
  if (whole > 0) facing.normal = (1 / whole) * facing.normal;
  return facing;
}

bool is_side(const Facing& facing) { return std::fabs(facing.normal.y) > 0.6; }

constexpr double kLargePane = 1e5;  // mm^2; a quarter light is smaller

struct Everything {
  shop::Job job;
  std::string place;
  std::vector<shop::GlassReading> readings;
  std::vector<shop::Decision> decisions;
  std::map<std::string, glazing::Sheet> optics;  // by film
};

Result<Everything> read_all(store::Book& book, const std::string& id) {
  auto job = find_job(book, id);
  if (!job) return Failure(job.error());
  Everything all{std::move(*job), book.glass_place(id), book.readings(id), book.decisions(id), {}};
  for (const shop::ScopeItem& item : all.job.scope) {
    if (all.optics.contains(item.film)) continue;
    const auto layer = book.film_optics(item.film);
    if (!layer) continue;
    auto sheet = exchange::read_glass_sheet(*layer);
    if (!sheet) return Failure(sheet.error());
    all.optics.emplace(item.film, std::move(*sheet));
  }
  return all;
}

template <class T>
std::optional<T> copy_of(const T* value) {
  return value == nullptr ? std::nullopt : std::optional<T>(*value);
}

Ranged around(double value, double off) {
  return {value, std::max(0.0, value - off), std::min(1.0, value + off)};
}

/// What film makes of the pane that the meter saw before.
void compute(JobWindow& window, const glazing::Sheet& film) {
  const auto glass =
      glazing::glass_like(window.before->transmittance, glazing::Tint::green, window.panel);
  if (!glass) return;
  const glazing::Stack stack{{*glass, film}, {{glazing::Joint::Kind::bonded, 0}}};
  const auto visible = glazing::average_of(stack, glazing::visible_weights());
  if (!visible) return;
  const double passed = visible->optics.total.transmit_front;
  const double share = window.before->transmittance > 0 ? passed / window.before->transmittance : 1;
  window.visible = around(passed, share * window.before->uncertainty);
  window.computed = true;
  window.reflectance = visible->optics.total.reflect_front;
}

JobWindow window_of(const shop::Panel& panel, const shop::VehicleModel& vehicle,
                    const Everything& all, const exchange::LimitTables& tables) {
  JobWindow window;
  window.panel = panel.id;
  window.name = panel.name;
  window.position = position_of(panel, vehicle);
  for (const auto& item : all.job.scope) {
    if (item.panel == panel.id) window.film = item.film;
  }
  window.before = copy_of(shop::newest(all.readings, panel.id, shop::Stage::before));
  window.after = copy_of(shop::newest(all.readings, panel.id, shop::Stage::after));
  const auto film = all.optics.find(window.film);
  if (window.before && film != all.optics.end()) compute(window, film->second);
  if (window.after) {
    window.visible = around(window.after->transmittance, window.after->uncertainty);
    window.computed = false;
  }
  if (window.film.empty()) {
    window.ruling.reason = "No film is planned here.";
  } else if (!window.position) {
    window.ruling.reason = "The tables have no rows for this window.";
  } else if (all.place.empty()) {
    window.ruling.reason = "No place is chosen.";
  } else if (!window.visible) {
    window.ruling.reason = "Nothing is known of the light that passes: read the meter first.";
  } else {
    window.ruling = glazing::judge(tables.windows, all.place, *window.position,
                                   {*window.visible, window.reflectance});
  }
  return window;
}

JobLamp lamp_of(const shop::Panel& panel, const std::string& film, const Everything& all) {
  JobLamp lamp{panel.id, panel.name, film, panel.finish == shop::Finish::reflector, {}};
  const auto optics = all.optics.find(film);
  if (optics == all.optics.end()) return lamp;
  const auto use = lamp.reflector ? glazing::LampUse::reflector : glazing::LampUse::head;
  for (const auto colour :
       {glazing::LampColour::white, glazing::LampColour::red, glazing::LampColour::amber}) {
    const auto left = glazing::light_left(optics->second, use, colour);
    if (!left) return lamp;
    lamp.left.push_back(left->left);
  }
  return lamp;
}

/// Runs `action` on the job in one change; the panel must be on its vehicle.
template <class Action>
Result<void> record(Workbench& workbench, const std::string& id, const std::string& panel,
                    const Action& action) {
  const auto job = workbench.store().look([&](store::Book& book) { return find_job(book, id); });
  if (!job) return Failure(job.error());
  const auto vehicle = workbench.vehicle(job->vehicle, job->vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  if (!panel.empty() && shop::find_panel(**vehicle, panel) == nullptr) {
    return fail(ErrorCode::not_found, "the vehicle has no such panel", "panel " + panel,
                "Choose one of its panels.");
  }
  return workbench.store().change([&](store::Book& book) -> Result<void> {
    const auto now_job = find_job(book, id);
    if (!now_job) return Failure(now_job.error());
    if (now_job->state == shop::JobState::cancelled) {
      return fail(ErrorCode::conflict, "the job was cancelled", "job " + id, "Open a new job.");
    }
    action(book);
    return {};
  });
}

}  // namespace

std::optional<Position> position_of(const shop::Panel& panel, const shop::VehicleModel& vehicle) {
  if (panel.finish != shop::Finish::glass) return std::nullopt;
  const Facing facing = facing_of(panel.surface);
  if (!is_side(facing)) {
    constexpr double kRaked = 0.25;  // a windscreen lies at most about 75 degrees off upright
    if (std::fabs(facing.normal.x) < kRaked) return std::nullopt;
    return facing.normal.x > 0 ? Position::windscreen : Position::rear;
  }
  // The foremost large side pane is that of the front door.
  std::optional<Facing> door;
  for (const shop::Panel& other : vehicle.panels) {
    if (other.finish != shop::Finish::glass) continue;
    const Facing there = facing_of(other.surface);
    if (!is_side(there) || there.area < kLargePane) continue;
    if (!door || there.front > door->front) door = there;
  }
  if (!door) return Position::rear_side;
  return facing.front >= door->middle.x ? Position::front_side : Position::rear_side;
}

Result<JobGlass> glass_of_job(Workbench& workbench, const std::string& id) {
  const auto all = workbench.store().look([&id](store::Book& book) { return read_all(book, id); });
  if (!all) return Failure(all.error());
  const auto vehicle = workbench.vehicle(all->job.vehicle, all->job.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  const auto tables = limit_tables(workbench.folder() / "limits");
  if (!tables) return Failure(tables.error());
  JobGlass glass;
  glass.place = all->place;
  for (const PlaceLine& line : places_in(*tables)) {
    if (line.id == glass.place) glass.place_name = line.name;
  }
  glass.decisions = all->decisions;
  glass.open = shop::open_concerns(all->job, **vehicle, all->decisions, "");
  for (const shop::Panel& panel : (*vehicle)->panels) {
    if (panel.finish == shop::Finish::glass) {
      glass.windows.push_back(window_of(panel, **vehicle, *all, *tables));
    }
  }
  for (const shop::ScopeItem& item : all->job.scope) {
    const shop::Panel* panel = shop::find_panel(**vehicle, item.panel);
    if (panel == nullptr) continue;
    if (panel->finish == shop::Finish::lamp || panel->finish == shop::Finish::reflector) {
      glass.lamps.push_back(lamp_of(*panel, item.film, *all));
    }
  }
  return glass;
}

Result<void> choose_place(Workbench& workbench, const std::string& job, const std::string& place,
                          const std::string& who) {
  const auto tables = limit_tables(workbench.folder() / "limits");
  if (!tables) return Failure(tables.error());
  const auto places = places_in(*tables);
  const auto found = std::find_if(places.begin(), places.end(),
                                  [&](const PlaceLine& line) { return line.id == place; });
  if (found == places.end()) {
    return fail(ErrorCode::not_found, "the tables know no such place", "place " + place,
                "Choose one of the places, or add it to the shop's own table.");
  }
  return record(workbench, job, "", [&](store::Book& book) {
    book.put_glass_place(job, place);
    book.append(job, shop::HistoryEntry{now(), who, "place chosen", found->name});
  });
}

Result<void> record_reading(Workbench& workbench, const std::string& job,
                            shop::GlassReading reading) {
  reading.at = now();
  if (auto sound = shop::check(reading); !sound) return sound;
  return record(workbench, job, reading.panel, [&](store::Book& book) {
    book.append(job, reading);
    book.append(job,
                shop::HistoryEntry{reading.at, reading.who, "window read",
                                   format("{} {} film: {:.1f} % (+- {:.1f})", reading.panel,
                                          shop::name_of(reading.stage), 100 * reading.transmittance,
                                          100 * reading.uncertainty)});
  });
}

Result<void> record_decision(Workbench& workbench, const std::string& job, shop::Decision decision,
                             const std::string& who) {
  decision.at = now();
  if (auto sound = shop::check(decision); !sound) return sound;
  return record(workbench, job, decision.panel, [&](store::Book& book) {
    book.append(job, decision);
    book.append(job, shop::HistoryEntry{
                         decision.at, who, decision.go_ahead ? "signed for film" : "signed against",
                         format("{} on {}: {}, {}", shop::name_of(decision.concern), decision.panel,
                                decision.signed_by, decision.basis)});
  });
}

Result<void> keep_film_optics(Workbench& workbench, const std::string& film,
                              std::string_view layer) {
  if (auto sheet = exchange::read_glass_sheet(layer); !sheet) return Failure(sheet.error());
  return workbench.store().change([&](store::Book& book) -> Result<void> {
    if (!book.film(film)) {
      return fail(ErrorCode::not_found, "there is no such film", "film " + film,
                  "Choose one of the films in the book.");
    }
    book.put_film_optics(film, layer);
    return {};
  });
}

Result<void> check_decided(Workbench& workbench, const shop::Job& job, const std::string& film) {
  const auto vehicle = workbench.vehicle(job.vehicle, job.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  const auto decisions =
      workbench.store().look([&](store::Book& book) { return book.decisions(job.id); });
  if (!decisions) return Failure(decisions.error());
  return shop::check_decided(job, **vehicle, *decisions, film);
}

Result<pattern::WindowShrink> shrink_of_window(Workbench& workbench, const std::string& vehicle,
                                               const std::string& panel, const Context& context) {
  const auto model = workbench.vehicle(vehicle);
  if (!model) return Failure(model.error());
  const shop::Panel* pane = shop::find_panel(**model, panel);
  if (pane == nullptr) {
    return fail(ErrorCode::not_found, "the vehicle has no such panel", "panel " + panel,
                "Choose one of its panels.");
  }
  const auto clean = surface::clean(pane->surface, {}, context);
  if (!clean) return Failure(clean.error());
  const auto flat = surface::flatten(clean->mesh, {}, context);
  if (!flat) return Failure(flat.error());
  return pattern::shrink_of(clean->mesh, pattern::squared(flat->flat));
}

}  // namespace film::workbench
