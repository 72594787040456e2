#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "glazing/lamp.h"
#include "glazing/limits.h"
#include "pattern/window.h"
#include "shop/decision.h"
#include "shop/reading.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// One window of the job's vehicle.
struct JobWindow {
  std::string panel;
  std::string name;
  std::optional<glazing::Position> position;  ///< none: a roof, which no table names
  std::string film;                           ///< of the scope; empty: stays as it is
  std::optional<shop::GlassReading> before;
  std::optional<shop::GlassReading> after;
  std::optional<glazing::Ranged> visible;  ///< read afterwards, else computed from the reading
                                           ///< before and the film's optics
  bool computed = false;
  std::optional<double> reflectance;
  glazing::Ruling ruling;
};

/// A lamp or reflector that gets film.
struct JobLamp {
  std::string panel;
  std::string name;
  std::string film;
  bool reflector = false;
  /// Of white, red and amber light, the share that is left; empty: the film's optics are not known.
  std::vector<double> left;
};

/// What the job does to glass, lamps and sensors.
struct JobGlass {
  std::string place;
  std::string place_name;
  std::vector<JobWindow> windows;
  std::vector<JobLamp> lamps;
  std::vector<shop::OpenConcern> open;
  std::vector<shop::Decision> decisions;
};

/// Errors: not_found (job, vehicle), those of limit_tables, io.
Result<JobGlass> glass_of_job(Workbench& workbench, const std::string& job);

/// Where a window sits, from the directions of the vehicle's panes: the pane facing forward is the
/// windscreen, one facing back the rear window; of the side panes those that reach as far forward
/// as the foremost large one are beside the driver. None for a roof and for what is no glass.
std::optional<glazing::Position> position_of(const shop::Panel& panel,
                                             const shop::VehicleModel& vehicle);

/// Errors of the four: not_found (job; panel not on the vehicle), invalid_input, io; conflict when
/// the job was cancelled.
Result<void> choose_place(Workbench& workbench, const std::string& job, const std::string& place,
                          const std::string& who);
Result<void> record_reading(Workbench& workbench, const std::string& job,
                            shop::GlassReading reading);
Result<void> record_decision(Workbench& workbench, const std::string& job, shop::Decision decision,
                             const std::string& who);

/// Keeps what a film does to light, a layer of docs/formats/glass.md. Errors: not_found (film),
/// those of read_glass_sheet.
Result<void> keep_film_optics(Workbench& workbench, const std::string& film,
                              std::string_view layer);

/// Whether nothing that a person must answer for is open on the job's items of one film (empty:
/// all). Errors: those of shop::check_decided, not_found.
Result<void> check_decided(Workbench& workbench, const shop::Job& job, const std::string& film);

/// How film must be shrunk to lie on a pane. Errors: not_found, those of the surface kernel.
Result<pattern::WindowShrink> shrink_of_window(Workbench& workbench, const std::string& vehicle,
                                               const std::string& panel, const Context& context);

}  // namespace film::workbench
