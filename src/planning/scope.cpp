#include "planning/scope.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.h"

namespace film::planning {
namespace {

using Per = TaskTemplate::Per;

std::optional<std::size_t> index_of(const std::vector<std::string>& names,
                                    const std::string& name) {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end()) return std::nullopt;
  return static_cast<std::size_t>(found - names.begin());
}

/// What a template is for: each zone, each coat, or once (an empty name).
std::vector<ZoneWork> parts_of(Per per, const Scope& scope) {
  double film = 0;
  for (const ZoneWork& zone : scope.zones) film += zone.hours;
  for (const ZoneWork& lamp : scope.lamps) film += lamp.hours;
  const auto once = [](bool wanted, double hours = 0) {
    return wanted ? std::vector<ZoneWork>{{"", hours, 0, false}} : std::vector<ZoneWork>{};
  };
  switch (per) {
    case Per::job: return once(true);
    case Per::correction: return once(scope.correction_hours > 0, scope.correction_hours);
    case Per::badges: return once(scope.badges);
    case Per::film: return once(film > 0, film);
    case Per::zone: return scope.zones;
    case Per::window: return scope.windows;
    case Per::lamp: return scope.lamps;
    case Per::coating: return once(scope.coats > 0);
    case Per::coat: break;
  }
  std::vector<ZoneWork> coats;
  for (int k = 1; k <= scope.coats; ++k) coats.push_back({format("layer {}", k), 0, 0, false});
  return coats;
}

class Build {
 public:
  Build(const Shop& shop, const Templates& templates, const Scope& scope, std::string id)
      : shop_(shop), templates_(templates), scope_(scope) {
    job_.id = std::move(id);
  }

  Result<Job> run() {
    for (const TaskTemplate& one : templates_.tasks) {
      if (auto error = add_tasks(one)) return Failure(*error);
    }
    for (const TaskTemplate& one : templates_.tasks) {
      if (auto error = add_waits(one)) return Failure(*error);
    }
    if (scope_.windows_first) tie("window film", "lay film");
    if (auto error = number_stages()) return Failure(*error);
    return std::move(job_);
  }

 private:
  static Error unknown(const std::string& what, const std::string& name, const std::string& where) {
    return {ErrorCode::not_found, format("no {} named \"{}\"", what, name), where,
            "Correct the template, or add it to the shop"};
  }

  std::optional<Error> add_tasks(const TaskTemplate& one) {
    auto& list = made_[one.id];
    for (const ZoneWork& part : parts_of(one.per, scope_)) {
      ShopTask task;
      task.id = part.id.empty() ? one.id : format("{} {}", one.id, part.id);
      const double minutes = 60 * (one.hours + one.share * part.hours);
      task.work = std::max(
          1,
          static_cast<Time>(std::ceil(minutes / static_cast<double>(shop_.step.count()) - 1e-9)));
      task.spread = part.spread > 0 && one.share > 0 ? part.spread : one.spread;
      task.pause = one.pause;
      task.plotter = one.plotter;
      if (!one.skill.empty()) {
        const auto skill = index_of(shop_.skills, one.skill);
        if (!skill) return unknown("skill", one.skill, one.id);
        task.hands.assign(part.bulk && one.share > 0 ? 2 : 1, Hand{*skill, one.level});
      } else {
        task.spread = 0;
      }
      if (!one.stage.empty()) {
        const auto stage = std::find_if(templates_.stages.begin(), templates_.stages.end(),
                                        [&](const StageTemplate& s) { return s.id == one.stage; });
        if (stage == templates_.stages.end()) return unknown("stage", one.stage, one.id);
        task.stage = static_cast<std::size_t>(stage - templates_.stages.begin());
      }
      list.push_back(job_.tasks.size());
      job_.tasks.push_back(std::move(task));
    }
    return std::nullopt;
  }

  void tie(const std::string& from, const std::string& to) {
    for (const std::size_t a : made_[from]) {
      for (const std::size_t b : made_[to]) job_.afters.push_back({a, b});
    }
  }

  std::optional<Error> add_waits(const TaskTemplate& one) {
    for (const TaskTemplate::Wait& wait : one.waits) {
      const auto other = std::find_if(templates_.tasks.begin(), templates_.tasks.end(),
                                      [&](const TaskTemplate& t) { return t.id == wait.after; });
      if (other == templates_.tasks.end()) return unknown("template", wait.after, one.id);
      const auto& from = made_[wait.after];
      const auto& to = made_[one.id];
      const auto steps = [this](double hours) {
        return static_cast<Time>(std::lround(60 * hours / static_cast<double>(shop_.step.count())));
      };
      After after{0, 0, steps(wait.least_hours), kNever};
      if (wait.most_hours > 0) after.most = steps(wait.most_hours);
      if (wait.at_once) after.most = after.least;
      const bool itself = wait.after == one.id;  // each layer after the one before
      const bool each = other->per == one.per;
      for (std::size_t b = 0; b < to.size(); ++b) {
        for (std::size_t a = 0; a < from.size(); ++a) {
          if (itself ? a + 1 != b : each && a != b) continue;
          after.from = from[a];
          after.to = to[b];
          job_.afters.push_back(after);
        }
      }
    }
    return std::nullopt;
  }

  /// Stages without tasks fall away.
  std::optional<Error> number_stages() {
    std::vector<std::size_t> number(templates_.stages.size(), 0);
    for (std::size_t s = 0; s < templates_.stages.size(); ++s) {
      const bool used = std::any_of(job_.tasks.begin(), job_.tasks.end(),
                                    [s](const ShopTask& task) { return task.stage == s; });
      if (!used) continue;
      number[s] = job_.stages.size();
      Stage stage;
      for (const std::string& name : templates_.stages[s].features) {
        const auto feature = index_of(shop_.features, name);
        if (!feature) return unknown("feature of a bay", name, templates_.stages[s].id);
        stage.features.push_back(*feature);
      }
      job_.stages.push_back(std::move(stage));
    }
    for (ShopTask& task : job_.tasks) {
      if (task.stage) task.stage = number[*task.stage];
    }
    return std::nullopt;
  }

  const Shop& shop_;
  const Templates& templates_;
  const Scope& scope_;
  Job job_;
  std::map<std::string, std::vector<std::size_t>> made_;
};

}  // namespace

Templates usual_templates() {
  Templates usual;
  usual.stages = {{"prepare", {}}, {"film", {"clean"}}, {"finish", {"heated"}}};
  const auto add = [&usual](std::string id, Per per, double hours, double share, std::string skill,
                            std::string stage, std::vector<TaskTemplate::Wait> waits) {
    TaskTemplate one;
    one.id = std::move(id);
    one.per = per;
    one.hours = hours;
    one.share = share;
    one.skill = std::move(skill);
    one.stage = std::move(stage);
    one.waits = std::move(waits);
    usual.tasks.push_back(std::move(one));
    return &usual.tasks.back();
  };
  add("wash", Per::job, 0.75, 0, "prepare", "prepare", {});
  add("decontaminate", Per::job, 0.75, 0, "prepare", "prepare", {{"wash"}});
  add("correct paint", Per::correction, 0, 1, "correct paint", "prepare", {{"decontaminate"}});
  add("remove badges", Per::badges, 0.5, 0, "prepare", "prepare", {{"wash"}});
  add("wipe down", Per::job, 0.25, 0, "prepare", "film",
      {{"decontaminate"}, {"correct paint"}, {"remove badges"}});
  add("cut film", Per::film, 0.25, 0.15, "cut film", "", {})->plotter = true;
  add("lay film", Per::zone, 0, 1, "install film", "film", {{"wipe down"}, {"cut film"}});
  add("dry film", Per::zone, 0.5, 0, "", "film", {{"lay film", 0, 0, true}});
  add("tuck edges", Per::zone, 0, 0.25, "install film", "film", {{"dry film", 0, 18}});
  add("window film", Per::window, 0, 1, "window film", "film", {{"wipe down"}});
  add("lamp film", Per::lamp, 0, 1, "install film", "film", {{"wipe down"}, {"cut film"}});
  add("coat", Per::coat, 1, 0, "coat", "finish",
      {{"tuck edges"}, {"lamp film"}, {"window film"}, {"coat", 1, 24}});
  add("cure", Per::coating, 4, 0, "", "finish", {{"coat", 0, 0, false}});
  add("inspect edges", Per::job, 0.5, 0, "inspect", "",
      {{"tuck edges"}, {"lamp film"}, {"window film"}, {"cure"}});
  add("take photos", Per::job, 0.25, 0, "prepare", "", {{"inspect edges"}});
  add("hand over", Per::job, 0.5, 0, "inspect", "", {{"take photos"}})->pause = Pause::never;
  return usual;
}

Result<Job> job_of(const Shop& shop, const Templates& templates, const Scope& scope,
                   std::string id) {
  return Build(shop, templates, scope, std::move(id)).run();
}

}  // namespace film::planning
