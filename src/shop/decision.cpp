#include "shop/decision.h"

#include <algorithm>

#include "base/text.h"
#include "shop/names.h"

namespace film::shop {

Result<void> check(const Decision& decision) {
  const auto refuse = [](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), std::move(field), std::move(remedy));
  };
  if (decision.panel.empty()) return refuse("a decision names no panel", "panel", "Name it.");
  if (decision.signed_by.size() < 2 || decision.signed_by.size() > 240) {
    return refuse("a decision is not signed", "signed_by",
                  "Give the full name of who answers for it.");
  }
  if (decision.basis.size() < 4 || decision.basis.size() > 2000) {
    return refuse("a decision rests on nothing", "basis",
                  decision.concern == Concern::sensor
                      ? "Say how the vehicle maker consented: letter, bulletin, date."
                      : "Say on what it rests: inspection, approval, local code.");
  }
  return {};
}

std::vector<Concern> concerns_of(const Panel& panel) {
  std::vector<Concern> concerns;
  if (panel.finish == Finish::lamp) concerns.push_back(Concern::lamp);
  if (panel.finish == Finish::reflector) concerns.push_back(Concern::reflector);
  if (panel.sensor) concerns.push_back(Concern::sensor);
  return concerns;
}

std::vector<OpenConcern> open_concerns(const Job& job, const VehicleModel& vehicle,
                                       const std::vector<Decision>& decisions,
                                       std::string_view film) {
  std::vector<OpenConcern> open;
  for (const ScopeItem& item : job.scope) {
    if (!film.empty() && item.film != film) continue;
    const Panel* panel = find_panel(vehicle, item.panel);
    if (panel == nullptr) continue;
    for (const Concern concern : concerns_of(*panel)) {
      const auto newest =
          std::find_if(decisions.rbegin(), decisions.rend(), [&](const Decision& each) {
            return each.panel == item.panel && each.concern == concern;
          });
      if (newest != decisions.rend() && newest->go_ahead) continue;
      open.push_back({item.panel, concern, newest != decisions.rend()});
    }
  }
  return open;
}

Result<void> check_decided(const Job& job, const VehicleModel& vehicle,
                           const std::vector<Decision>& decisions, std::string_view film) {
  const auto open = open_concerns(job, vehicle, decisions, film);
  if (open.empty()) return {};
  const OpenConcern& first = open.front();
  const std::string more = open.size() > 1 ? format(" ({} more)", open.size() - 1) : "";
  return fail(ErrorCode::conflict,
              first.refused
                  ? format("it was decided against film here: {}{}", name_of(first.concern), more)
                  : format("nobody has answered for film here: {}{}", name_of(first.concern), more),
              format("job {} panel {}", job.id, first.panel),
              "Record a signed decision for it on the job's glass and lamps, or take the panel out "
              "of the scope.");
}

std::string_view caution_for(Concern concern) {
  switch (concern) {
    case Concern::lamp:
      return "Film takes light from a lamp that others must see in time. It may end the lamp's "
             "approval whatever is left. Local code prevails; a licensed inspection decides.";
    case Concern::reflector:
      return "Light passes the film on a reflector twice: what is left is squared. Required "
             "reflectors stay bare unless local code and a licensed inspection allow it.";
    case Concern::sensor:
      return "A camera, radar, lidar or ultrasonic sensor works through this surface. Film only "
             "with the vehicle maker's consent; without it the sensor may fail unseen.";
  }
  return "";
}

}  // namespace film::shop
