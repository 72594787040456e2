#include "exchange/detail/templates_json.h"

#include <algorithm>
#include <array>

namespace film::exchange::detail {
namespace {

using planning::TaskTemplate;
using Per = TaskTemplate::Per;

constexpr std::array<Word<Per>, 9> kPer{{{"job", Per::job},
                                         {"correction", Per::correction},
                                         {"badges", Per::badges},
                                         {"film", Per::film},
                                         {"zone", Per::zone},
                                         {"window", Per::window},
                                         {"lamp", Per::lamp},
                                         {"coat", Per::coat},
                                         {"coating", Per::coating}}};

TaskTemplate read_task(const Place& place) {
  TaskTemplate task;
  task.id = place.at("id").text();
  if (const auto per = place.find("per")) task.per = per->word(kPer);
  task.hours = number_or(place, "hours", 0, 0, 1000);
  task.share = number_or(place, "share", 0, 0, 100);
  task.spread = number_or(place, "spread", 0.15, 0, 2);
  task.skill = text_or(place, "skill", "");
  task.level = static_cast<int>(number_or(place, "level", 1, 1, 9));
  task.pause = truth_or(place, "in_one_go") ? planning::Pause::never : planning::Pause::at_breaks;
  task.plotter = truth_or(place, "plotter");
  task.stage = text_or(place, "stage", "");
  if (const auto waits = place.find("after")) {
    for (std::size_t i = 0; i < waits->size(); ++i) {
      const Place one = waits->item(i);
      task.waits.push_back({one.at("task").text(), number_or(one, "least_hours", 0, 0, 1000),
                            number_or(one, "most_hours", 0, 0, 1000), truth_or(one, "at_once")});
    }
  }
  return task;
}

}  // namespace

planning::Templates read_templates(const Place& place) {
  planning::Templates templates;
  const Place stages = place.at("stages");
  for (std::size_t i = 0; i < stages.size(); ++i) {
    planning::StageTemplate stage{stages.item(i).at("id").text(), {}};
    if (const auto features = stages.item(i).find("features")) {
      for (std::size_t k = 0; k < features->size(); ++k) {
        stage.features.push_back(features->item(k).text());
      }
    }
    templates.stages.push_back(std::move(stage));
  }
  const Place tasks = place.at("tasks");
  if (tasks.size() == 0 || tasks.size() > 200) refuse("1 to 200 kinds of task", tasks.path);
  for (std::size_t i = 0; i < tasks.size(); ++i)
    templates.tasks.push_back(read_task(tasks.item(i)));
  return templates;
}

nlohmann::ordered_json write_templates(const planning::Templates& templates) {
  using Json = nlohmann::ordered_json;
  Json stages = Json::array();
  for (const auto& stage : templates.stages) {
    stages.push_back({{"id", stage.id}, {"features", stage.features}});
  }
  Json tasks = Json::array();
  for (const TaskTemplate& task : templates.tasks) {
    const auto per = std::find_if(kPer.begin(), kPer.end(),
                                  [&task](const auto& word) { return word.value == task.per; });
    Json after = Json::array();
    for (const TaskTemplate::Wait& wait : task.waits) {
      after.push_back({{"task", wait.after},
                       {"least_hours", wait.least_hours},
                       {"most_hours", wait.most_hours},
                       {"at_once", wait.at_once}});
    }
    tasks.push_back({{"id", task.id},
                     {"per", per->text},
                     {"hours", task.hours},
                     {"share", task.share},
                     {"spread", task.spread},
                     {"skill", task.skill},
                     {"level", task.level},
                     {"in_one_go", task.pause == planning::Pause::never},
                     {"plotter", task.plotter},
                     {"stage", task.stage},
                     {"after", std::move(after)}});
  }
  return {{"stages", std::move(stages)}, {"tasks", std::move(tasks)}};
}

}  // namespace film::exchange::detail
