#include <cmath>

#include "demo/detail/body.h"
#include "demo/detail/curve.h"
#include "demo/detail/design.h"

namespace film::demo {
namespace {

using pattern::EdgeKind;
using shop::Finish;

double body(Vec3 p) { return body_distance(p); }
Field sunk(double depth) {
  return [depth](Vec3 p) { return body_distance(p) + depth; };
}

Cut gap(std::string name, Field side, double half = 2) {
  return {std::move(name), EdgeKind::gap, std::move(side), half};
}
Cut hem(std::string name, Field side, double half = 0) {
  return {std::move(name), EdgeKind::hem, std::move(side), half};
}
Cut seal(std::string name, Field side, double half = 1.5) {
  return {std::move(name), EdgeKind::seal, std::move(side), half};
}
Cut cutout(std::string name, Field side, double half = 1.5) {
  return {std::move(name), EdgeKind::cutout, std::move(side), half};
}

/// Distance from a rectangle with rounded corners about (a, b), turned by `turn`.
double rounded_box(double a, double b, double half_a, double half_b, double r) {
  const double u = std::fabs(a) - half_a + r, v = std::fabs(b) - half_b + r;
  return std::hypot(std::fmax(u, 0.0), std::fmax(v, 0.0)) + std::fmin(std::fmax(u, v), 0.0) - r;
}

/// A rounded box in the side view.
Field side_box(double x, double z, double half_x, double half_z, double r, double slope = 0) {
  const double c = 1 / std::hypot(1.0, slope), s = slope * c;
  return [=](Vec3 p) {
    const double a = p.x - x, b = p.z - z;
    return rounded_box(c * a + s * b, c * b - s * a, half_x, half_z, r);
  };
}
/// A rounded box seen from the front or the rear, on the left only or (y = 0) in the middle.
Field end_box(double y, double z, double half_y, double half_z, double r) {
  return [=](Vec3 p) { return rounded_box(p.y - y, p.z - z, half_y, half_z, r); };
}

// ---- lines of the lower body --------------------------------------------------------------

double ay(Vec3 p) { return std::fabs(p.y); }

double hood_side(Vec3 p) {
  static const Curve y{{700, 752}, {1000, 760}, {1500, 767}, {1900, 757}, {2150, 722}, {2330, 664}};
  return ay(p) - y(p.x);
}
double hood_rear(Vec3 p) { return p.x - (912 - 0.00029 * p.y * p.y); }
double lamp_middle(double x) {
  static const Curve z{{1900, 738}, {2050, 718}, {2200, 692}, {2300, 676}, {2350, 671}};
  return z(x);
}
double lamp_half(double x) {
  static const Curve half{{1900, 24}, {2050, 34}, {2200, 38}, {2300, 37}, {2350, 36}};
  return half(x);
}
/// The lines above and below the head lamps run on along the whole front.
double lamp_top(Vec3 p) { return p.z - lamp_middle(p.x) - lamp_half(p.x); }
double lamp_low(Vec3 p) { return p.z - lamp_middle(p.x) + lamp_half(p.x); }
double screen_base(Vec3 p) { return p.x - (838 - 0.00029 * p.y * p.y); }

/// The head lamp from its inner end round the corner to its tip on the fender.
double head_lamp(Vec3 p) {
  const double up = std::fabs(p.z - lamp_middle(p.x)) - lamp_half(p.x);
  return round_common(round_common(up, 1912 - p.x, 18), 470 - ay(p), 14);
}
double bumper_side(Vec3 p) { return p.x - (1936 - 0.10 * (p.z - 500)); }
/// What lies in front of the fender and below the lamp.
double below_lamp(Vec3 p) { return std::fmax(-bumper_side(p), p.z - lamp_middle(p.x)); }
double corner_line(Vec3 p) { return ay(p) - (640 + 0.12 * (p.z - 500)); }
double bumper_low(Vec3 p) { return p.z - 292; }
double bottom(Vec3 p) { return p.z - 206; }

double door_front(Vec3 p) {
  static const Curve x{{200, 735}, {345, 742}, {600, 735}, {850, 700}, {1000, 668}, {1100, 640}};
  return p.x - x(p.z);
}
double door_middle(Vec3 p) {
  static const Curve x{{200, -322}, {345, -320}, {700, -330}, {1000, -352}, {1500, -412}};
  return p.x - x(p.z);
}
double door_rear(Vec3 p) {
  static const Curve x{{200, -1012}, {345, -1014},  {500, -1040},  {650, -1092},
                       {800, -1160}, {1000, -1232}, {1250, -1282}, {1500, -1318}};
  return p.x - x(p.z);
}
double sill_top(Vec3 p) { return p.z - 340; }
/// The fender ends above the sill behind the wheel and runs down to the bottom in front of it.
double fender_low(Vec3 p) { return std::fmax(sill_top(p), p.x - kHalfWheelbase); }
double strip_top(Vec3 p) { return p.z - 388; }
double sill_low(Vec3 p) { return p.z - 246; }
double arch(Vec3 p) { return from_axle(p) - kArchRadius; }

double belt(double x) {
  static const Curve z{{-2400, 1036}, {-1400, 1018}, {-400, 1004}, {400, 998}, {900, 1000}};
  return z(x);
}
Field above_belt(double by) {
  return [by](Vec3 p) { return p.z - belt(p.x) - by; };
}

// ---- lines of the glasshouse --------------------------------------------------------------

double screen_side(Vec3 p) { return ay(p) - (668 - 0.25 * (p.z - 1010)); }
double screen_top(Vec3 p) { return p.x - (128 - 0.00024 * p.y * p.y); }
double roof_rear(Vec3 p) { return p.x - (-2178 + 0.00008 * p.y * p.y); }

/// The upper edge of the side windows.
double window_top(Vec3 p) {
  static const Curve z{{-2500, 1290}, {-2200, 1352}, {-1800, 1408}, {-1200, 1444},
                       {-600, 1454},  {-250, 1440},  {-50, 1405},   {190, 1308},
                       {360, 1212},   {520, 1108},   {665, 1010},   {790, 920}};
  return (p.z - z(p.x)) / std::hypot(1.0, z.slope(p.x));
}
double window_rear(Vec3 p) { return p.x - (-2188 + 0.30 * (p.z - 1030)); }
double sail(Vec3 p) { return p.x - (480 - 0.1 * (p.z - 1000)); }
double pillar_top(Vec3 p) { return p.x - 60; }

/// The edge along the roof's side that runs on down beside the rear window.
double roof_side(Vec3 p) {
  static const Curve roof{{-2300, 520}, {-1800, 545}, {-800, 562}, {0, 552}, {200, 540}};
  const double back = 524 + 0.36 * (1420 - p.z);
  const double w = smooth_step(-2190, -2330, p.x);
  return ay(p) - ((1 - w) * roof(p.x) + w * back);
}
double spoiler_low(Vec3 p) { return p.z - (1446 - 0.00004 * p.y * p.y); }
double tail_top(Vec3 p) { return p.z - (1034 + 0.00001 * p.y * p.y); }

// ---- lines of the rear --------------------------------------------------------------------

double tail_side(Vec3 p) { return ay(p) - (692 - 29 * smooth_step(930, 1036, p.z)); }
double rear_bumper_top(Vec3 p) {
  static const Curve z{{-2560, 668}, {-2300, 652}, {-2000, 610}, {-1700, 560}};
  return std::fmax(p.z - z(p.x), p.x + kHalfWheelbase);
}
double rear_corner(Vec3 p) { return ay(p) - (628 - 0.10 * (p.z - 500)); }
double tail_lamp(Vec3 p) {
  const double up = std::fabs(p.z - (872 - 0.02 * (p.x + 2400))) - (34 + 0.04 * (p.x + 2400));
  return round_common(round_common(up, p.x + 2178, 16), 330 - ay(p), 16);
}
double rear_low(Vec3 p) { return p.z - 330; }

/// A skin swollen outwards inside a shape given by its distance.
Field pillow(Field shape, double base, double height, double width) {
  return
      [=](Vec3 p) { return body_distance(p) - base - height * smooth_step(0, -width, shape(p)); };
}

void add_front(std::vector<PanelDesign>& out) {
  const Chart across = round_axis({1350, 0, 300}, {0, 1, 0}, {0, 0, 1}, 700);
  const Chart nose = round_axis({1500, 0, 0}, {0, 0, 1}, {1, 0, 0}, 850);
  const Field badge = end_box(0, 670, 44, 24, 23);

  out.push_back({"hood",
                 "Hood",
                 "front",
                 Finish::gloss_paint,
                 {1500, 0, 960},
                 {gap("windscreen", hood_rear), gap("fender", hood_side), hem("lip", lamp_top, 2)},
                 {},
                 body,
                 14,
                 across,
                 false,
                 false});
  out.push_back({"grille_trim",
                 "Upper grille trim",
                 "front",
                 Finish::gloss_black,
                 {2300, 250, 670},
                 {gap("hood", lamp_top, 3),
                  gap(
                      "lamp", [](Vec3 p) { return ay(p) - 464; }, 3),
                  gap("bumper", lamp_low, 3)},
                 {cutout("badge", badge)},
                 sunk(12),
                 22,
                 nose,
                 true,
                 false});
  out.push_back({"badge_front",
                 "Front badge recess",
                 "front",
                 Finish::gloss_black,
                 {2330, 20, 666},
                 {gap("trim", badge, 1.5)},
                 {},
                 sunk(9),
                 0,
                 nose,
                 false,
                 true});
  out.push_back({"front_bumper",
                 "Front bumper",
                 "front",
                 Finish::gloss_paint,
                 {2340, 0, 480},
                 {gap("grille", lamp_low), gap("corner", corner_line),
                  hem("intake", [](Vec3 p) { return p.z - 414; })},
                 {},
                 body,
                 6,
                 nose,
                 true,
                 false});
  out.push_back({"lower_grille",
                 "Lower grille trim",
                 "front",
                 Finish::gloss_black,
                 {2330, 0, 350},
                 {gap(
                      "bumper", [](Vec3 p) { return p.z - 414; }, 3),
                  gap("corner", corner_line, 3), gap("valance", bumper_low, 3)},
                 {},
                 sunk(16),
                 10,
                 nose,
                 false,
                 false});
  out.push_back({"front_valance",
                 "Front valance",
                 "front",
                 Finish::bare_plastic,
                 {2300, 0, 250},
                 {gap("bumper", bumper_low), hem("bottom", bottom), gap("corner", corner_line)},
                 {},
                 body,
                 5,
                 nose,
                 false,
                 false});

  const Field intake = [](Vec3 p) {
    return rounded_box(ay(p) - 748 - 0.1 * (p.z - 400), p.z - 402, 62, 74, 30);
  };
  const Field fog = [](Vec3 p) { return rounded_box(ay(p) - 746, p.z - 356, 34, 15, 14); };
  out.push_back({"front_bumper_corner_left",
                 "Front bumper corner",
                 "front",
                 Finish::gloss_paint,
                 {2250, 720, 530},
                 {gap("lamp", lamp_low), gap("fender", bumper_side), hem("arch", arch),
                  hem("bottom", bottom), gap("middle", corner_line)},
                 {cutout("intake", intake)},
                 body,
                 6,
                 nose,
                 false,
                 false});
  out.push_back({"intake_trim_left",
                 "Intake trim",
                 "front",
                 Finish::gloss_black,
                 {2200, 750, 430},
                 {gap("bumper", intake, 2)},
                 {cutout("fog lamp", fog)},
                 sunk(10),
                 0,
                 nose,
                 false,
                 false});
  out.push_back({"fog_lamp_left",
                 "Fog lamp",
                 "lamps",
                 Finish::lamp,
                 {2200, 746, 356},
                 {gap("trim", fog, 1.5)},
                 {},
                 sunk(8),
                 0,
                 nose,
                 false,
                 false});
  out.push_back({"head_lamp_left",
                 "Head lamp",
                 "lamps",
                 Finish::lamp,
                 {2230, 720, 680},
                 {gap("body", head_lamp)},
                 {},
                 sunk(1.5),
                 0,
                 nose,
                 false,
                 false});
}

void add_side(std::vector<PanelDesign>& out) {
  const Field turn = side_box(1030, 716, 60, 9, 8, 0.03);
  const Field plate = side_box(1040, 560, 52, 13, 6);
  const Field front_handle = side_box(-196, 818, 112, 17, 16, -0.03);
  const Field rear_handle = side_box(-1010, 838, 112, 17, 16, -0.03);
  const Field flap = side_box(-1800, 806, 70, 58, 26);

  out.push_back({"fender_left",
                 "Fender",
                 "left",
                 Finish::gloss_paint,
                 {1480, 940, 830},
                 {gap("hood", hood_side), gap("lamp", head_lamp), gap("bumper", below_lamp),
                  hem("arch", arch), gap("sill", fender_low), hem("bottom", bottom),
                  gap("door", door_front), gap("pillar", above_belt(0))},
                 {cutout("turn lamp", turn), cutout("badge", plate)},
                 body,
                 6,
                 {},
                 false,
                 false});
  out.push_back({"turn_lamp_left",
                 "Side turn lamp",
                 "lamps",
                 Finish::lamp,
                 {1030, 930, 716},
                 {gap("fender", turn, 1.5)},
                 {},
                 body,
                 0,
                 {},
                 false,
                 false});
  out.push_back({"fender_badge_left",
                 "Fender badge recess",
                 "left",
                 Finish::gloss_black,
                 {1040, 930, 560},
                 {gap("fender", plate, 1.5)},
                 {},
                 sunk(2),
                 0,
                 {},
                 false,
                 true});
  out.push_back({"door_front_left",
                 "Front door",
                 "left",
                 Finish::gloss_paint,
                 {200, 940, 700},
                 {gap("fender", door_front), gap("strip", strip_top), gap("rear door", door_middle),
                  seal("belt", above_belt(0))},
                 {cutout("handle", front_handle)},
                 body,
                 10,
                 {},
                 false,
                 false});
  out.push_back({"door_rear_left",
                 "Rear door",
                 "left",
                 Finish::gloss_paint,
                 {-650, 940, 700},
                 {gap("front door", door_middle), gap("strip", strip_top),
                  gap("quarter", door_rear), seal("belt", above_belt(0))},
                 {cutout("handle", rear_handle)},
                 body,
                 10,
                 {},
                 false,
                 false});
  out.push_back({"handle_front_left",
                 "Front door handle",
                 "left",
                 Finish::gloss_paint,
                 {-196, 940, 818},
                 {gap("door", front_handle, 1.5)},
                 {},
                 pillow(front_handle, 2, 9, 16),
                 0,
                 {},
                 false,
                 false});
  out.push_back({"handle_rear_left",
                 "Rear door handle",
                 "left",
                 Finish::gloss_paint,
                 {-1010, 940, 838},
                 {gap("door", rear_handle, 1.5)},
                 {},
                 pillow(rear_handle, 2, 9, 16),
                 0,
                 {},
                 false,
                 false});
  out.push_back({"door_trim_front_left",
                 "Front door trim strip",
                 "left",
                 Finish::gloss_black,
                 {200, 930, 364},
                 {gap("fender", door_front), gap("door", strip_top), gap("rear strip", door_middle),
                  gap("sill", sill_top)},
                 {},
                 body,
                 4,
                 {},
                 false,
                 false});
  out.push_back({"door_trim_rear_left",
                 "Rear door trim strip",
                 "left",
                 Finish::gloss_black,
                 {-650, 930, 364},
                 {gap("front strip", door_middle), gap("door", strip_top),
                  gap("quarter", door_rear), gap("sill", sill_top)},
                 {},
                 body,
                 4,
                 {},
                 false,
                 false});
  out.push_back({"sill_left",
                 "Sill",
                 "sills",
                 Finish::gloss_paint,
                 {0, 930, 290},
                 {gap("doors", sill_top), hem("front arch", arch), gap("trim", sill_low)},
                 {},
                 body,
                 4,
                 {},
                 false,
                 false});
  out.push_back({"sill_trim_left",
                 "Sill trim",
                 "sills",
                 Finish::bare_plastic,
                 {0, 900, 225},
                 {gap("sill", sill_low), hem("front arch", arch), hem("bottom", bottom)},
                 {},
                 body,
                 4,
                 {},
                 false,
                 false});
  out.push_back({"quarter_left",
                 "Quarter",
                 "left",
                 Finish::gloss_paint,
                 {-1900, 930, 880},
                 {gap("door", door_rear), gap("sill", sill_top), hem("arch", arch),
                  gap("bumper", rear_bumper_top), gap("tailgate", tail_side),
                  gap("lamp", tail_lamp), seal("belt", above_belt(0))},
                 {cutout("flap", flap)},
                 body,
                 6,
                 {},
                 false,
                 false});
  out.push_back({"charge_flap_left",
                 "Charge flap",
                 "left",
                 Finish::gloss_paint,
                 {-1800, 930, 806},
                 {gap("quarter", flap, 1.5)},
                 {},
                 body,
                 0,
                 {},
                 false,
                 false});
}

void add_glasshouse(std::vector<PanelDesign>& out) {
  const Field roof_glass = [](Vec3 p) { return rounded_box(p.x + 620, p.y, 520, 420, 60); };
  const auto beside = [](double (*line)(Vec3), double by) {
    return Field([=](Vec3 p) { return line(p) - by; });
  };
  out.push_back({"windscreen",
                 "Windscreen",
                 "glass",
                 Finish::glass,
                 {500, 0, 1280},
                 {seal("cowl", screen_base), seal("pillar", screen_side), seal("roof", screen_top)},
                 {},
                 sunk(2),
                 30,
                 {},
                 true,
                 false});
  out.push_back(
      {"cowl",
       "Cowl panel",
       "front",
       Finish::bare_plastic,
       {860, 0, 1020},
       {gap("hood", hood_rear), seal("windscreen", screen_base), gap("fender", hood_side)},
       {},
       sunk(3),
       5,
       {},
       false,
       false});
  out.push_back({"roof",
                 "Roof",
                 "roof",
                 Finish::gloss_paint,
                 {-1700, 0, 1530},
                 {gap("windscreen", screen_top), gap("rail", roof_side), gap("spoiler", roof_rear)},
                 {seal("glass", roof_glass, 2)},
                 body,
                 14,
                 {},
                 false,
                 false});
  out.push_back({"roof_glass",
                 "Roof glass",
                 "glass",
                 Finish::glass,
                 {-420, 200, 1560},
                 {seal("roof", roof_glass, 2)},
                 {},
                 sunk(1),
                 0,
                 {},
                 false,
                 false});

  out.push_back({"a_pillar_left",
                 "A pillar",
                 "left",
                 Finish::gloss_paint,
                 {360, 630, 1255},
                 {gap("windscreen", screen_side), seal("window", window_top),
                  gap("rail", pillar_top), gap("fender", above_belt(0))},
                 {},
                 body,
                 5,
                 {},
                 false,
                 false});
  out.push_back({"roof_rail_left",
                 "Roof rail",
                 "roof",
                 Finish::gloss_paint,
                 {-900, 600, 1510},
                 {gap("pillar", pillar_top), gap("roof", roof_side), seal("window", window_top),
                  gap("rear pillar", window_rear)},
                 {},
                 body,
                 5,
                 {},
                 false,
                 false});
  out.push_back(
      {"d_pillar_left",
       "D pillar",
       "left",
       Finish::gloss_paint,
       {-2250, 690, 1200},
       {seal("window", window_rear), gap("tailgate", roof_side), gap("quarter", above_belt(0))},
       {},
       body,
       8,
       {},
       false,
       false});
  out.push_back({"mirror_sail_left",
                 "Mirror sail",
                 "left",
                 Finish::gloss_black,
                 {540, 810, 1060},
                 {gap("pillar", window_top), gap("window", sail), gap("belt", above_belt(34))},
                 {},
                 sunk(3),
                 4,
                 {},
                 false,
                 false});
  out.push_back({"door_glass_front_left",
                 "Front door glass",
                 "glass",
                 Finish::glass,
                 {100, 780, 1200},
                 {seal("sail", sail), seal("frame", window_top),
                  seal("pillar", beside(door_middle, 58)), seal("belt", above_belt(34))},
                 {},
                 sunk(3),
                 16,
                 {},
                 false,
                 false});
  out.push_back({"b_pillar_front_left",
                 "B pillar, front",
                 "left",
                 Finish::gloss_black,
                 {-340, 780, 1200},
                 {gap("window", beside(door_middle, 58)), gap("frame", window_top),
                  gap("rear", door_middle), gap("belt", above_belt(34))},
                 {},
                 sunk(1.5),
                 4,
                 {},
                 false,
                 false});
  out.push_back({"b_pillar_rear_left",
                 "B pillar, rear",
                 "left",
                 Finish::gloss_black,
                 {-420, 780, 1200},
                 {gap("window", beside(door_middle, -58)), gap("frame", window_top),
                  gap("front", door_middle), gap("belt", above_belt(34))},
                 {},
                 sunk(1.5),
                 4,
                 {},
                 false,
                 false});
  out.push_back({"door_glass_rear_left",
                 "Rear door glass",
                 "glass",
                 Finish::glass,
                 {-800, 780, 1200},
                 {seal("pillar", beside(door_middle, -58)), seal("frame", window_top),
                  seal("rear", beside(door_rear, 46)), seal("belt", above_belt(34))},
                 {},
                 sunk(3),
                 16,
                 {},
                 false,
                 false});
  out.push_back({"c_pillar_left",
                 "C pillar",
                 "left",
                 Finish::gloss_black,
                 {-1250, 780, 1200},
                 {gap("window", beside(door_rear, 46)), gap("frame", window_top),
                  gap("quarter", door_rear), gap("belt", above_belt(34))},
                 {},
                 sunk(1.5),
                 4,
                 {},
                 false,
                 false});
  out.push_back({"quarter_glass_left",
                 "Quarter glass",
                 "glass",
                 Finish::glass,
                 {-1700, 780, 1200},
                 {seal("door", door_rear), seal("frame", window_top), seal("pillar", window_rear),
                  seal("belt", above_belt(34))},
                 {},
                 sunk(3),
                 24,
                 {},
                 false,
                 false});

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
    out.push_back(
        {"belt_trim_" + part.id + "_left",
         part.name + " belt trim",
         "left",
         Finish::chrome,
         {part.inside.x, part.inside.y, z + 8},
         {part.front, gap("seal", above_belt(17), 0.5), part.rear, gap("body", above_belt(0), 1.5)},
         {},
         body,
         3,
         {},
         false,
         false});
    out.push_back({"belt_seal_" + part.id + "_left",
                   part.name + " window seal",
                   "left",
                   Finish::rubber,
                   {part.inside.x, part.inside.y, z + 25},
                   {part.front, seal("glass", above_belt(34), 0.5), part.rear,
                    gap("trim", above_belt(17), 0.5)},
                   {},
                   sunk(1),
                   3,
                   {},
                   false,
                   false});
  }

  const Field bar = [](Vec3 p) {
    static const Curve y{{-2100, 530}, {-1400, 551}, {-800, 558}, {-200, 554}, {100, 544}};
    return rounded_box(p.x + 960, ay(p) - y(p.x), 1010, 20, 19);
  };
  out.push_back({"roof_bar_left",
                 "Roof bar",
                 "roof",
                 Finish::chrome,
                 {-960, 556, 1540},
                 {gap("rail", bar, 0)},
                 {},
                 pillow(bar, 3, 9, 20),
                 0,
                 view_along({0, 0.35, 0.94}),
                 false,
                 false,
                 16});

  const double cut_x = kMirror.x + 4;
  out.push_back({"mirror_face_left",
                 "Mirror face",
                 "left",
                 Finish::gloss_paint,
                 {kMirror.x + 80, kMirror.y, kMirror.z},
                 {hem("rim", [cut_x](Vec3 p) { return p.x + 0.12 * (p.y - kMirror.y) - cut_x; })},
                 {},
                 mirror_housing,
                 0,
                 {},
                 false,
                 false,
                 13});
  out.push_back(
      {"mirror_base_left",
       "Mirror base",
       "left",
       Finish::gloss_black,
       {596, 920, 1030},
       {gap("door", [](Vec3 p) { return p.y - 872; }),
        gap("mirror", [](Vec3 p) { return p.y - 942; }),
        hem("under",
            [](Vec3 p) { return p.z - (999 + (p.y - 846) * 0.208) + 0.05 * (p.x - 594); })},
       {},
       mirror_foot,
       4,
       {},
       true,
       false});
}

void add_rear(std::vector<PanelDesign>& out) {
  const Chart tail = round_axis({-1700, 0, 0}, {0, 0, 1}, {-1, 0, 0}, 850);
  const Field plate = end_box(0, 768, 300, 52, 24);
  const Field badge = end_box(0, 952, 62, 24, 23);
  const Field stop = [](Vec3 p) { return rounded_box(p.x + 2240, p.y, 12, 200, 10); };
  out.push_back({"spoiler",
                 "Roof spoiler",
                 "roof",
                 Finish::gloss_paint,
                 {-2250, 0, 1490},
                 {gap("roof", roof_rear), gap("side", roof_side), gap("glass", spoiler_low)},
                 {cutout("stop lamp", stop)},
                 body,
                 8,
                 {},
                 false,
                 false});
  out.push_back({"brake_lamp_high",
                 "High brake lamp",
                 "lamps",
                 Finish::lamp,
                 {-2240, 0, 1490},
                 {gap("spoiler", stop, 1.5)},
                 {},
                 sunk(1),
                 0,
                 {},
                 false,
                 false});
  out.push_back(
      {"rear_glass",
       "Rear glass",
       "glass",
       Finish::glass,
       {-2380, 0, 1230},
       {seal("spoiler", spoiler_low), seal("pillar", roof_side), seal("tailgate", tail_top)},
       {},
       sunk(2),
       40,
       {},
       false,
       false});
  out.push_back({"tailgate",
                 "Tailgate",
                 "rear",
                 Finish::gloss_paint,
                 {-2500, 0, 860},
                 {gap("glass", tail_top), gap("quarter", tail_side), gap("bumper", rear_bumper_top),
                  gap("lamp", tail_lamp), gap("pillar", roof_side)},
                 {cutout("plate", plate), cutout("badge", badge)},
                 body,
                 8,
                 {},
                 false,
                 false});
  out.push_back({"plate_trim",
                 "Number plate recess",
                 "rear",
                 Finish::gloss_black,
                 {-2500, 0, 768},
                 {gap("tailgate", plate, 1.5)},
                 {},
                 sunk(14),
                 0,
                 {},
                 true,
                 false});
  out.push_back({"badge_rear",
                 "Rear badge recess",
                 "rear",
                 Finish::gloss_black,
                 {-2500, 0, 952},
                 {gap("tailgate", badge, 1.5)},
                 {},
                 sunk(2),
                 0,
                 {},
                 false,
                 true});
  out.push_back({"tail_lamp_inner_left",
                 "Tail lamp on the tailgate",
                 "lamps",
                 Finish::lamp,
                 {-2480, 520, 872},
                 {gap("tailgate", tail_lamp), gap("outer", tail_side)},
                 {},
                 sunk(1),
                 4,
                 {},
                 false,
                 false});
  out.push_back({"tail_lamp_left",
                 "Tail lamp",
                 "lamps",
                 Finish::lamp,
                 {-2400, 780, 872},
                 {gap("quarter", tail_lamp), gap("inner", tail_side)},
                 {},
                 sunk(1),
                 4,
                 tail,
                 false,
                 false});
  out.push_back(
      {"rear_bumper",
       "Rear bumper",
       "rear",
       Finish::gloss_paint,
       {-2530, 0, 520},
       {gap("tailgate", rear_bumper_top), gap("corner", rear_corner), gap("valance", rear_low)},
       {},
       body,
       6,
       tail,
       true,
       false});
  out.push_back({"rear_valance",
                 "Rear valance",
                 "rear",
                 Finish::bare_plastic,
                 {-2520, 0, 270},
                 {gap("bumper", rear_low), hem("bottom", bottom), gap("corner", rear_corner)},
                 {},
                 body,
                 5,
                 tail,
                 false,
                 false});
  const Field reflector = [](Vec3 p) { return rounded_box(ay(p) - 720, p.z - 420, 70, 14, 12); };
  out.push_back({"rear_bumper_corner_left",
                 "Rear bumper corner",
                 "rear",
                 Finish::gloss_paint,
                 {-2350, 800, 540},
                 {gap("quarter", rear_bumper_top), hem("arch", arch), hem("bottom", bottom),
                  gap("middle", rear_corner)},
                 {cutout("reflector", reflector)},
                 body,
                 6,
                 tail,
                 false,
                 false});
  out.push_back({"rear_reflector_left",
                 "Rear reflector",
                 "lamps",
                 Finish::reflector,
                 {-2450, 720, 420},
                 {gap("bumper", reflector, 1.5)},
                 {},
                 sunk(1),
                 0,
                 tail,
                 false,
                 false});
}

void add_inside(std::vector<PanelDesign>& out) {
  // The painted step behind each door: a flat top that rolls over to the outside.
  const auto step = [](Vec3 p) {
    return round_common(p.y - 846 + 0.05 * (360 - p.z), p.z - 352 + 0.00002 * p.x * p.x, 22);
  };
  const auto between = [&](std::string id, std::string name, double front, double rear) {
    out.push_back({std::move(id),
                   std::move(name),
                   "sills",
                   Finish::gloss_paint,
                   {0.5 * (front + rear), 800, 352},
                   {gap("front", [=](Vec3 p) { return p.x - front; }),
                    gap("rear", [=](Vec3 p) { return p.x - rear; }),
                    seal("carpet", [](Vec3 p) { return p.y - 764; }),
                    seal("door seal", [](Vec3 p) { return p.z + 0.00002 * p.x * p.x - 345; })},
                   {},
                   step,
                   8,
                   {},
                   false,
                   false});
  };
  between("entry_sill_front_left", "Front entry sill", 640, -250);
  between("entry_sill_rear_left", "Rear entry sill", -400, -960);
}

}  // namespace

std::vector<PanelDesign> panel_designs() {
  std::vector<PanelDesign> designs;
  add_front(designs);
  add_side(designs);
  add_glasshouse(designs);
  add_rear(designs);
  add_inside(designs);
  return designs;
}

}  // namespace film::demo
