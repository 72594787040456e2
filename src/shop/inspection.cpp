#include "shop/inspection.h"

#include <algorithm>

#include "shop/detail/text_fields.h"

namespace film::shop {

const std::vector<CheckItem>& inspection_list() {
  static const std::vector<CheckItem> kList{
      {"edges", "Every edge lies down and is tucked where it should be",
       "Jede Kante liegt an und ist umgelegt, wo sie es sein soll"},
      {"corners", "No fingers and no lifted corners", "Keine Falten und keine abstehenden Ecken"},
      {"surface", "No dirt, hair or marks under or on the film",
       "Kein Schmutz, Haar oder Kratzer unter oder auf der Folie"},
      {"stretch", "No stretch marks, no glue lines", "Keine Dehnstreifen, keine Kleberlinien"},
      {"water", "No water or solution left that will not dry out",
       "Kein Wasser und keine Lösung, die nicht austrocknet"},
      {"seams", "Seams are where they were planned and lie flat",
       "Stöße sind, wo sie geplant waren, und liegen flach"},
      {"paint", "Paint and trim are unharmed: no cut marks",
       "Lack und Zierteile sind unversehrt: keine Schnittspuren"},
      {"lamps", "Lamps and reflectors are as signed for and shine",
       "Leuchten und Rückstrahler sind wie unterschrieben und leuchten"},
      {"sensors", "Cameras and sensors are clear, or as signed for",
       "Kameras und Sensoren sind frei oder wie unterschrieben"},
      {"glass", "Windows were read with the meter where film is on them",
       "Scheiben mit Folie wurden gemessen"},
      {"parts", "Badges and parts that came off are back on and work",
       "Embleme und abgenommene Teile sind wieder dran und gehen"},
      {"clean", "The vehicle is clean inside and out", "Das Fahrzeug ist innen und außen sauber"},
  };
  return kList;
}

Result<void> check(const Inspection& inspection) {
  if (auto sound = detail::check({{inspection.job, "job"}, {inspection.who, "who"}}); !sound) {
    return sound;
  }
  const auto refuse = [](std::string what, std::string where, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy));
  };
  for (const CheckItem& item : inspection_list()) {
    const auto count = std::count_if(inspection.findings.begin(), inspection.findings.end(),
                                     [&](const Finding& each) { return each.item == item.id; });
    if (count == 1) continue;
    return refuse(count == 0 ? "an item was not looked at" : "an item was looked at twice",
                  std::string(item.id), "Give one finding for each item of the list.");
  }
  for (const Finding& finding : inspection.findings) {
    const bool listed = std::any_of(inspection_list().begin(), inspection_list().end(),
                                    [&](const CheckItem& each) { return each.id == finding.item; });
    if (!listed) return refuse("this is no item of the list", finding.item, "Leave it out.");
    if (!finding.good && finding.note.size() < 3) {
      return refuse("a fault without a note", finding.item, "Say what is wrong and where.");
    }
    if (auto sound = detail::check({{finding.note, "note", 0, 2000}, {finding.photo, "photo", 0}});
        !sound) {
      return sound;
    }
  }
  return {};
}

bool passed(const Inspection& inspection) {
  return std::all_of(inspection.findings.begin(), inspection.findings.end(),
                     [](const Finding& each) { return each.good; });
}

Result<void> check(const HandOver& hand_over) {
  return detail::check({{hand_over.job, "job"},
                        {hand_over.given_by, "given_by"},
                        {hand_over.received_by, "received_by", 2, 240},
                        {hand_over.declined, "declined", 0, 2000},
                        {hand_over.note, "note", 0, 2000}});
}

}  // namespace film::shop
