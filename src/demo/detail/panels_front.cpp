#include "demo/detail/design.h"
#include "demo/detail/lines.h"

namespace film::demo {

using shop::Finish;

void add_front(std::vector<PanelDesign>& out) {
  const Chart across = round_axis({1350, 0, 300}, {0, 1, 0}, {0, 0, 1}, 700);
  const Chart nose = round_axis({1500, 0, 0}, {0, 0, 1}, {1, 0, 0}, 850);
  const Field badge = end_box(0, 670, 44, 24, 23);

  add(out, "hood", "Hood", "front", Finish::gloss_paint, {1500, 0, 960},
      {gap("windscreen", hood_rear), gap("fender", hood_side), hem("lip", lamp_top, 2)})
      .corners(14)
      .seen(across);
  add(out, "grille_trim", "Upper grille trim", "front", Finish::gloss_black, {2300, 250, 670},
      {gap("hood", lamp_top, 3),
       gap(
           "lamp", [](Vec3 p) { return ay(p) - 464; }, 3),
       gap("bumper", lamp_low, 3)})
      .open(cutout("badge", badge))
      .on(sunk(12))
      .corners(22)
      .seen(nose)
      .with_sensor();
  add(out, "badge_front", "Front badge recess", "front", Finish::gloss_black, {2330, 20, 666},
      {gap("trim", badge, 1.5)})
      .on(sunk(9))
      .corners(0)
      .seen(nose)
      .with_badge();
  add(out, "front_bumper", "Front bumper", "front", Finish::gloss_paint, {2340, 0, 480},
      {gap("grille", lamp_low), gap("corner", corner_line),
       hem("intake", [](Vec3 p) { return p.z - 414; })})
      .corners(6)
      .seen(nose)
      .with_sensor();
  add(out, "lower_grille", "Lower grille trim", "front", Finish::gloss_black, {2330, 0, 350},
      {gap(
           "bumper", [](Vec3 p) { return p.z - 414; }, 3),
       gap("corner", corner_line, 3), gap("valance", bumper_low, 3)})
      .on(sunk(16))
      .corners(10)
      .seen(nose);
  add(out, "front_valance", "Front valance", "front", Finish::bare_plastic, {2300, 0, 250},
      {gap("bumper", bumper_low), hem("bottom", bottom), gap("corner", corner_line)})
      .seen(nose);

  const Field intake = [](Vec3 p) {
    return rounded_box(ay(p) - 748 - 0.1 * (p.z - 400), p.z - 402, 62, 74, 30);
  };
  const Field fog = [](Vec3 p) { return rounded_box(ay(p) - 746, p.z - 356, 34, 15, 14); };
  add(out, "front_bumper_corner_left", "Front bumper corner", "front", Finish::gloss_paint,
      {2250, 720, 530},
      {gap("lamp", lamp_low), gap("fender", bumper_side), hem("arch", arch), hem("bottom", bottom),
       gap("middle", corner_line)})
      .open(cutout("intake", intake))
      .corners(6)
      .seen(nose);
  add(out, "intake_trim_left", "Intake trim", "front", Finish::gloss_black, {2200, 750, 430},
      {gap("bumper", intake, 2)})
      .open(cutout("fog lamp", fog))
      .on(sunk(10))
      .corners(0)
      .seen(nose);
  add(out, "fog_lamp_left", "Fog lamp", "lamps", Finish::lamp, {2200, 746, 356},
      {gap("trim", fog, 1.5)})
      .on(sunk(8))
      .corners(0)
      .seen(nose);
  add(out, "head_lamp_left", "Head lamp", "lamps", Finish::lamp, {2230, 720, 680},
      {gap("body", head_lamp)})
      .on(sunk(1.5))
      .corners(0)
      .seen(nose);
}

}  // namespace film::demo
