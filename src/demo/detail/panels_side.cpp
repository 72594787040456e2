#include "demo/detail/curve.h"
#include "demo/detail/design.h"
#include "demo/detail/lines.h"

namespace film::demo {

using shop::Finish;

void add_side(std::vector<PanelDesign>& out) {
  const Field turn = side_box(1030, 716, 60, 9, 8, 0.03);
  const Field plate = side_box(1040, 560, 52, 13, 6);
  const Field front_handle = side_box(-196, 818, 112, 17, 16, -0.03);
  const Field rear_handle = side_box(-1010, 838, 112, 17, 16, -0.03);
  const Field flap = side_box(-1800, 806, 70, 58, 26);

  add(out, "fender_left", "Fender", "left", Finish::gloss_paint, {1480, 940, 830},
      {gap("hood", hood_side), gap("lamp", head_lamp), gap("bumper", below_lamp), hem("arch", arch),
       gap("sill", fender_low), hem("bottom", bottom), gap("door", door_front),
       gap("pillar", above_belt(0))})
      .open(cutout("turn lamp", turn))
      .open(cutout("badge", plate))
      .corners(6);
  add(out, "turn_lamp_left", "Side turn lamp", "lamps", Finish::lamp, {1030, 930, 716},
      {gap("fender", turn, 1.5)})
      .corners(0);
  add(out, "fender_badge_left", "Fender badge recess", "left", Finish::gloss_black,
      {1040, 930, 560}, {gap("fender", plate, 1.5)})
      .on(sunk(2))
      .corners(0)
      .with_badge();
  add(out, "door_front_left", "Front door", "left", Finish::gloss_paint, {200, 940, 700},
      {gap("fender", door_front), gap("strip", strip_top), gap("rear door", door_middle),
       seal("belt", above_belt(0))})
      .open(cutout("handle", front_handle))
      .corners(10);
  add(out, "door_rear_left", "Rear door", "left", Finish::gloss_paint, {-650, 940, 700},
      {gap("front door", door_middle), gap("strip", strip_top), gap("quarter", door_rear),
       seal("belt", above_belt(0))})
      .open(cutout("handle", rear_handle))
      .corners(10);
  add(out, "handle_front_left", "Front door handle", "left", Finish::gloss_paint, {-196, 940, 818},
      {gap("door", front_handle, 1.5)})
      .on(pillow(front_handle, 2, 9, 16))
      .corners(0);
  add(out, "handle_rear_left", "Rear door handle", "left", Finish::gloss_paint, {-1010, 940, 838},
      {gap("door", rear_handle, 1.5)})
      .on(pillow(rear_handle, 2, 9, 16))
      .corners(0);
  add(out, "door_trim_front_left", "Front door trim strip", "left", Finish::gloss_black,
      {200, 930, 364},
      {gap("fender", door_front), gap("door", strip_top), gap("rear strip", door_middle),
       gap("sill", sill_top)})
      .corners(4);
  add(out, "door_trim_rear_left", "Rear door trim strip", "left", Finish::gloss_black,
      {-650, 930, 364},
      {gap("front strip", door_middle), gap("door", strip_top), gap("quarter", door_rear),
       gap("sill", sill_top)})
      .corners(4);
  add(out, "sill_left", "Sill", "sills", Finish::gloss_paint, {0, 930, 290},
      {gap("doors", sill_top), hem("front arch", arch), gap("trim", sill_low)})
      .corners(4);
  add(out, "sill_trim_left", "Sill trim", "sills", Finish::bare_plastic, {0, 900, 225},
      {gap("sill", sill_low), hem("front arch", arch), hem("bottom", bottom)})
      .corners(4);
  add(out, "quarter_left", "Quarter", "left", Finish::gloss_paint, {-1900, 930, 880},
      {gap("door", door_rear), gap("sill", sill_top), hem("arch", arch),
       gap("bumper", rear_bumper_top), gap("tailgate", tail_side), gap("lamp", tail_lamp),
       seal("belt", above_belt(0))})
      .open(cutout("flap", flap))
      .corners(6);
  add(out, "charge_flap_left", "Charge flap", "left", Finish::gloss_paint, {-1800, 930, 806},
      {gap("quarter", flap, 1.5)})
      .corners(0);
}

void add_entry_sills(std::vector<PanelDesign>& out) {
  // The painted step behind each door: a flat top that rolls over to the outside.
  const auto step = [](Vec3 p) {
    return round_common(p.y - 846 + 0.05 * (360 - p.z), p.z - 352 + 0.00002 * p.x * p.x, 22);
  };
  const auto between = [&](std::string id, std::string name, double front, double rear) {
    add(out, std::move(id), std::move(name), "sills", Finish::gloss_paint,
        {0.5 * (front + rear), 800, 352},
        {gap("front", [=](Vec3 p) { return p.x - front; }),
         gap("rear", [=](Vec3 p) { return p.x - rear; }),
         seal("carpet", [](Vec3 p) { return p.y - 764; }),
         seal("door seal", [](Vec3 p) { return p.z + 0.00002 * p.x * p.x - 345; })})
        .on(step)
        .corners(8);
  };
  between("entry_sill_front_left", "Front entry sill", 640, -250);
  between("entry_sill_rear_left", "Rear entry sill", -400, -960);
}

}  // namespace film::demo
