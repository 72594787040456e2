#include "demo/detail/design.h"
#include "demo/detail/lines.h"

namespace film::demo {

using shop::Finish;

void add_rear(std::vector<PanelDesign>& out) {
  const Chart tail = round_axis({-1700, 0, 0}, {0, 0, 1}, {-1, 0, 0}, 850);
  const Field plate = end_box(0, 768, 300, 52, 24);
  const Field badge = end_box(0, 952, 62, 24, 23);
  const Field stop = [](Vec3 p) { return rounded_box(p.x + 2240, p.y, 12, 200, 10); };
  add(out, "spoiler", "Roof spoiler", "roof", Finish::gloss_paint, {-2205, 0, 1490},
      {gap("roof", roof_rear), gap("side", roof_side), gap("glass", spoiler_low)})
      .open(cutout("brake lamp", stop))
      .corners(8);
  add(out, "brake_lamp_high", "High brake lamp", "lamps", Finish::lamp, {-2240, 0, 1490},
      {gap("spoiler", stop, 1.5)})
      .on(sunk(1))
      .corners(0);
  add(out, "rear_glass", "Rear glass", "glass", Finish::glass, {-2380, 0, 1230},
      {seal("spoiler", spoiler_low), seal("pillar", roof_side), seal("tailgate", tail_top)})
      .on(sunk(2))
      .corners(40);
  add(out, "tailgate", "Tailgate", "rear", Finish::gloss_paint, {-2500, 0, 860},
      {gap("glass", tail_top), gap("quarter", tail_side), gap("bumper", rear_bumper_top),
       gap("lamp", tail_lamp), gap("pillar", roof_side)})
      .open(cutout("plate", plate))
      .open(cutout("badge", badge))
      .corners(8);
  add(out, "plate_trim", "Number plate recess", "rear", Finish::gloss_black, {-2500, 0, 768},
      {gap("tailgate", plate, 1.5)})
      .on(sunk(14))
      .corners(0)
      .with_sensor();
  add(out, "badge_rear", "Rear badge recess", "rear", Finish::gloss_black, {-2500, 0, 952},
      {gap("tailgate", badge, 1.5)})
      .on(sunk(2))
      .corners(0)
      .with_badge();
  add(out, "tail_lamp_inner_left", "Tail lamp on the tailgate", "lamps", Finish::lamp,
      {-2480, 520, 872}, {gap("tailgate", tail_lamp), gap("outer", tail_side)})
      .on(sunk(1))
      .corners(4);
  add(out, "tail_lamp_left", "Tail lamp", "lamps", Finish::lamp, {-2400, 780, 872},
      {gap("quarter", tail_lamp), gap("inner", tail_side)})
      .on(sunk(1))
      .corners(4)
      .seen(tail);
  add(out, "rear_bumper", "Rear bumper", "rear", Finish::gloss_paint, {-2530, 0, 520},
      {gap("tailgate", rear_bumper_top), gap("corner", rear_corner), gap("valance", rear_low)})
      .corners(6)
      .seen(tail)
      .with_sensor();
  add(out, "rear_valance", "Rear valance", "rear", Finish::bare_plastic, {-2520, 0, 270},
      {gap("bumper", rear_low), hem("bottom", bottom), gap("corner", rear_corner)})
      .seen(tail);
  const Field reflector = [](Vec3 p) { return rounded_box(ay(p) - 720, p.z - 420, 70, 14, 12); };
  add(out, "rear_bumper_corner_left", "Rear bumper corner", "rear", Finish::gloss_paint,
      {-2350, 800, 540},
      {gap("quarter", rear_bumper_top), hem("arch", arch), hem("bottom", bottom),
       gap("middle", rear_corner)})
      .open(cutout("reflector", reflector))
      .corners(6)
      .seen(tail);
  add(out, "rear_reflector_left", "Rear reflector", "lamps", Finish::reflector, {-2450, 720, 420},
      {gap("bumper", reflector, 1.5)})
      .on(sunk(1))
      .corners(0)
      .seen(tail);
}

}  // namespace film::demo
