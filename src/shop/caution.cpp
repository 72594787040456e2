#include "shop/caution.h"

namespace film::shop {

std::vector<std::string> cautions_for(const Panel& panel, Language language) {
  const auto say = [language](const char* english, const char* german) {
    return language == Language::german ? german : english;
  };
  std::vector<std::string> cautions;
  if (panel.finish == Finish::glass) {
    cautions.emplace_back(say(
        "Road visibility: measure the light that passes glass and film together; local code says "
        "how much must, and a licensed inspection decides.",
        "Sicht im Verkehr: Licht durch Scheibe und Folie zusammen messen; das Recht "
        "am Ort sagt, wie viel es sein muss, und eine zugelassene Prüfstelle "
        "entscheidet."));
  }
  if (panel.finish == Finish::lamp) {
    cautions.emplace_back(say(
        "Lamp: film takes light from it. Film that dims a required lamp may be forbidden; local "
        "code and a licensed inspection decide.",
        "Leuchte: Folie nimmt ihr Licht. Folie, die eine vorgeschriebene Leuchte "
        "dunkler macht, kann verboten sein; das Recht am Ort und eine zugelassene "
        "Prüfstelle entscheiden."));
  }
  if (panel.finish == Finish::reflector) {
    cautions.emplace_back(say(
        "Reflector: light passes the film twice. Leave required reflectors bare unless local code "
        "and a licensed inspection allow it.",
        "Rückstrahler: Licht geht zweimal durch die Folie. Vorgeschriebene "
        "Rückstrahler frei lassen, wenn nicht das Recht am Ort und eine zugelassene "
        "Prüfstelle es erlauben."));
  }
  if (panel.sensor) {
    cautions.emplace_back(
        say("Sensor: a camera, radar or ultrasonic sensor sits here. Film only with the vehicle "
            "maker's consent.",
            "Sensor: hier sitzt eine Kamera, ein Radar oder ein Ultraschallsensor. Folie "
            "nur mit Zustimmung des Fahrzeugherstellers."));
  }
  if (panel.badge) {
    cautions.emplace_back(say("Badge: take it off before laying the film; keep heat low around it.",
                              "Emblem: vor dem Verlegen abnehmen; dort wenig Wärme."));
  }
  return cautions;
}

std::vector<std::string> work_cautions(Language language) {
  if (language == Language::german) {
    return {
        "Klingen: Schutzkappe auf, vom Körper weg schneiden, die Kante anheben und nie in den Lack "
        "schneiden.",
        "Ansetzlösung enthält Alkohol: lüften, keine Flamme und kein Heißluftgerät in der Nähe.",
        "Wärme: unter den Grenzen von Folie und Lack bleiben; mit einem Oberflächenthermometer "
        "messen.",
        "Nie über eine Airbagnaht folieren.",
    };
  }
  return {
      "Blades: sheathe them, cut away from the body, lift the edge and never score the panel.",
      "Tack solution holds alcohol: ventilate, no flame and no heat gun near it.",
      "Heat: keep below the limits of film and paint; check with a surface thermometer.",
      "Never film across an airbag seam.",
  };
}

}  // namespace film::shop
