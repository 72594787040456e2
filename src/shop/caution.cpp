#include "shop/caution.h"

namespace film::shop {

std::vector<std::string> cautions_for(const Panel& panel) {
  std::vector<std::string> cautions;
  if (panel.finish == Finish::glass) {
    cautions.emplace_back(
        "Road visibility: measure the light that passes glass and film together; local code says "
        "how much must, and a licensed inspection decides.");
  }
  if (panel.finish == Finish::lamp) {
    cautions.emplace_back(
        "Lamp: film takes light from it. Film that dims a required lamp may be forbidden; local "
        "code and a licensed inspection decide.");
  }
  if (panel.finish == Finish::reflector) {
    cautions.emplace_back(
        "Reflector: light passes the film twice. Leave required reflectors bare unless local code "
        "and a licensed inspection allow it.");
  }
  if (panel.sensor) {
    cautions.emplace_back(
        "Sensor: a camera, radar or ultrasonic sensor sits here. Film only with the vehicle "
        "maker's consent.");
  }
  if (panel.badge) {
    cautions.emplace_back("Badge: take it off before laying the film; keep heat low around it.");
  }
  return cautions;
}

std::vector<std::string> work_cautions() {
  return {
      "Blades: sheathe them, cut away from the body, lift the edge and never score the panel.",
      "Tack solution holds alcohol: ventilate, no flame and no heat gun near it.",
      "Heat: keep below the limits of film and paint; check with a surface thermometer.",
      "Never film across an airbag seam.",
  };
}

}  // namespace film::shop
