#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "planning/shop_model.h"

namespace film::planning {

/// One zone, window or lamp of a job, with its hours from the hours model.
struct ZoneWork {
  std::string id;
  double hours = 0;
  double spread = 0.2;  ///< standard deviation over mean
  bool bulk = false;    ///< a large sheet: two people lay it
};

/// What is to be done to one vehicle.
struct Scope {
  std::vector<ZoneWork> zones;    ///< body film
  std::vector<ZoneWork> windows;  ///< window film
  std::vector<ZoneWork> lamps;    ///< lamp film
  double correction_hours = 0;    ///< paint correction; 0: none
  bool badges = false;            ///< badges come off
  int coats = 0;                  ///< coating layers
  bool windows_first = false;     ///< window film before body film
};

/// One kind of task, as the shop writes it.
struct TaskTemplate {
  enum class Per { job, correction, badges, film, zone, window, lamp, coat, coating };
  /// `most` 0: no limit. Between tasks of the same zone, window or lamp when both are for each,
  /// else after all of them.
  struct Wait {
    std::string after;
    double least_hours = 0;
    double most_hours = 0;
    bool at_once = false;  ///< starts the moment the other ends
  };

  std::string id;
  Per per = Per::job;  ///< once, or once for each; the once-kinds only when the scope has any
  double hours = 0;    ///< fixed part
  double share = 0;    ///< times the hours of the zone (of all zones, for `film`)
  double spread = 0.15;
  std::string skill;  ///< empty: a wait
  int level = 1;
  Pause pause = Pause::at_breaks;
  bool plotter = false;
  std::string stage;  ///< name of a StageTemplate; empty: without the vehicle
  std::vector<Wait> waits;
};

struct StageTemplate {
  std::string id;
  std::vector<std::string> features;
};

/// The shop's way of working, as data it edits.
struct Templates {
  std::vector<StageTemplate> stages;  ///< in order
  std::vector<TaskTemplate> tasks;    ///< each after those it waits for
};

/// A start to edit. Hours and waits are common practice with no published source: half an hour of
/// drying before the tuck, tuck within 18 h, next layer of coating after 1 h and within 24 h, 4 h
/// of curing. Skills: prepare, correct paint, cut film, install film, window film, coat, inspect.
/// Features: clean, heated.
Templates usual_templates();

/// The tasks of a job. Durations are rounded up to steps of the shop.
/// Errors: not_found (a skill, feature, stage or template by a name that is not there).
Result<Job> job_of(const Shop& shop, const Templates& templates, const Scope& scope,
                   std::string id);

}  // namespace film::planning
