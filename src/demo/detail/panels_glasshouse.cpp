#include "demo/detail/body.h"
#include "demo/detail/curve.h"
#include "demo/detail/design.h"
#include "demo/detail/lines.h"

namespace film::demo {

using shop::Finish;

void add_glasshouse(std::vector<PanelDesign>& out) {
  const Field roof_glass = [](Vec3 p) { return rounded_box(p.x + 620, p.y, 520, 420, 60); };
  const auto beside = [](double (*line)(Vec3), double by) {
    return Field([=](Vec3 p) { return line(p) - by; });
  };
  add(out, "windscreen", "Windscreen", "glass", Finish::glass, {500, 0, 1280},
      {seal("cowl", screen_base), seal("pillar", screen_side), seal("roof", screen_top)})
      .on(sunk(2))
      .corners(30)
      .with_sensor();
  add(out, "cowl", "Cowl panel", "front", Finish::bare_plastic, {860, 0, 1020},
      {gap("hood", hood_rear), seal("windscreen", screen_base), gap("fender", hood_side)})
      .on(sunk(3));
  add(out, "roof", "Roof", "roof", Finish::gloss_paint, {-1700, 0, 1530},
      {gap("windscreen", screen_top), gap("rail", roof_side), gap("spoiler", roof_rear)})
      .open(seal("glass", roof_glass, 2))
      .corners(14);
  add(out, "roof_glass", "Roof glass", "glass", Finish::glass, {-420, 200, 1560},
      {seal("roof", roof_glass, 2)})
      .on(sunk(1))
      .corners(0);

  add(out, "a_pillar_left", "A pillar", "left", Finish::gloss_paint, {360, 630, 1255},
      {gap("windscreen", screen_side), seal("window", window_top), gap("rail", pillar_top),
       gap("fender", above_belt(0))});
  add(out, "roof_rail_left", "Roof rail", "roof", Finish::gloss_paint, {-900, 600, 1510},
      {gap("pillar", pillar_top), gap("roof", roof_side), seal("window", window_top),
       gap("rear pillar", window_rear)});
  add(out, "d_pillar_left", "D pillar", "left", Finish::gloss_paint, {-2250, 690, 1200},
      {seal("window", window_rear), gap("tailgate", roof_side), gap("quarter", above_belt(0))})
      .corners(8);
  add(out, "mirror_sail_left", "Mirror sail", "left", Finish::gloss_black, {540, 810, 1060},
      {gap("pillar", window_top), gap("window", sail), gap("belt", above_belt(34))})
      .on(sunk(3))
      .corners(4);
  add(out, "door_glass_front_left", "Front door glass", "glass", Finish::glass, {100, 780, 1200},
      {seal("sail", sail), seal("frame", window_top), seal("pillar", beside(door_middle, 58)),
       seal("belt", above_belt(34))})
      .on(sunk(3))
      .corners(16);
  add(out, "b_pillar_front_left", "B pillar, front", "left", Finish::gloss_black, {-340, 780, 1200},
      {gap("window", beside(door_middle, 58)), gap("frame", window_top), gap("rear", door_middle),
       gap("belt", above_belt(34))})
      .on(sunk(1.5))
      .corners(4);
  add(out, "b_pillar_rear_left", "B pillar, rear", "left", Finish::gloss_black, {-420, 780, 1200},
      {gap("window", beside(door_middle, -58)), gap("frame", window_top), gap("front", door_middle),
       gap("belt", above_belt(34))})
      .on(sunk(1.5))
      .corners(4);
  add(out, "door_glass_rear_left", "Rear door glass", "glass", Finish::glass, {-800, 780, 1200},
      {seal("pillar", beside(door_middle, -58)), seal("frame", window_top),
       seal("rear", beside(door_rear, 46)), seal("belt", above_belt(34))})
      .on(sunk(3))
      .corners(16);
  add(out, "c_pillar_left", "C pillar", "left", Finish::gloss_black, {-1250, 780, 1200},
      {gap("window", beside(door_rear, 46)), gap("frame", window_top), gap("quarter", door_rear),
       gap("belt", above_belt(34))})
      .on(sunk(1.5))
      .corners(4);
  add(out, "quarter_glass_left", "Quarter glass", "glass", Finish::glass, {-1700, 780, 1200},
      {seal("door", door_rear), seal("frame", window_top), seal("pillar", window_rear),
       seal("belt", above_belt(34))})
      .on(sunk(3))
      .corners(24);

  struct Part {
    std::string id, name;
    Vec3 inside;
    Cut front, rear;
  };
  const std::vector<Part> parts{
      {"front",
       "Front",
       {100, 850, 1000},
       gap("front", [](Vec3 p) { return p.x - 640; }),
       gap("rear", door_middle)},
      {"rear", "Rear", {-800, 850, 1000}, gap("front", door_middle), gap("rear", door_rear)},
      {"quarter",
       "Quarter",
       {-1700, 830, 1000},
       gap("front", door_rear),
       gap("rear", window_rear)}};
  for (const Part& part : parts) {
    const double z = belt(part.inside.x);
    add(out, "belt_trim_" + part.id + "_left", part.name + " belt trim", "left", Finish::chrome,
        {part.inside.x, part.inside.y, z + 8},
        {part.front, gap("seal", above_belt(17), 0.5), part.rear, gap("body", above_belt(0), 1.5)})
        .corners(3);
    add(out, "belt_seal_" + part.id + "_left", part.name + " window seal", "left", Finish::rubber,
        {part.inside.x, part.inside.y, z + 25},
        {part.front, seal("glass", above_belt(34), 0.5), part.rear,
         gap("trim", above_belt(17), 0.5)})
        .on(sunk(1))
        .corners(3);
  }

  const Field bar = [](Vec3 p) {
    static const Curve y{{-2100, 530}, {-1400, 551}, {-800, 558}, {-200, 554}, {100, 544}};
    return rounded_box(p.x + 960, ay(p) - y(p.x), 1010, 20, 19);
  };
  add(out, "roof_bar_left", "Roof bar", "roof", Finish::chrome, {-960, 556, 1540},
      {gap("rail", bar, 0)})
      .on(pillow(bar, 3, 9, 20))
      .corners(0)
      .seen(view_along({0, 0.35, 0.94}))
      .no_finer_than(16);

  const double cut_x = kMirror.x + 4;
  add(out, "mirror_face_left", "Mirror face", "left", Finish::gloss_paint,
      {kMirror.x + 80, kMirror.y, kMirror.z},
      {hem("rim", [cut_x](Vec3 p) { return p.x + 0.12 * (p.y - kMirror.y) - cut_x; })})
      .on(mirror_housing)
      .corners(0)
      .no_finer_than(13);
  add(out, "mirror_base_left", "Mirror base", "left", Finish::gloss_black, {596, 920, 1030},
      {gap("door", [](Vec3 p) { return p.y - 872; }),
       gap("mirror", [](Vec3 p) { return p.y - 942; }),
       hem("under", [](Vec3 p) { return p.z - (999 + (p.y - 846) * 0.208) + 0.05 * (p.x - 594); })})
      .on(mirror_foot)
      .corners(4)
      .with_sensor();
}

}  // namespace film::demo
