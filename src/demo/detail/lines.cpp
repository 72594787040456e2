#include "demo/detail/lines.h"

#include <cmath>

#include "demo/detail/body.h"
#include "demo/detail/curve.h"

namespace film::demo {

using pattern::EdgeKind;

double body(Vec3 p) { return body_distance(p); }
Field sunk(double depth) {
  return [depth](Vec3 p) { return body_distance(p) + depth; };
}

Cut gap(std::string name, Field side, double half) {
  return {std::move(name), EdgeKind::gap, std::move(side), half};
}
Cut hem(std::string name, Field side, double half) {
  return {std::move(name), EdgeKind::hem, std::move(side), half};
}
Cut seal(std::string name, Field side, double half) {
  return {std::move(name), EdgeKind::seal, std::move(side), half};
}
Cut cutout(std::string name, Field side, double half) {
  return {std::move(name), EdgeKind::cutout, std::move(side), half};
}

double rounded_box(double a, double b, double half_a, double half_b, double r) {
  const double u = std::fabs(a) - half_a + r, v = std::fabs(b) - half_b + r;
  return std::hypot(std::fmax(u, 0.0), std::fmax(v, 0.0)) + std::fmin(std::fmax(u, v), 0.0) - r;
}

Field side_box(double x, double z, double half_x, double half_z, double r, double slope) {
  const double c = 1 / std::hypot(1.0, slope), s = slope * c;
  return [=](Vec3 p) {
    const double a = p.x - x, b = p.z - z;
    return rounded_box(c * a + s * b, c * b - s * a, half_x, half_z, r);
  };
}
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
double lamp_top(Vec3 p) { return p.z - lamp_middle(p.x) - lamp_half(p.x); }
double lamp_low(Vec3 p) { return p.z - lamp_middle(p.x) + lamp_half(p.x); }
double screen_base(Vec3 p) { return p.x - (838 - 0.00029 * p.y * p.y); }

double head_lamp(Vec3 p) {
  const double up = std::fabs(p.z - lamp_middle(p.x)) - lamp_half(p.x);
  return round_common(round_common(up, 1912 - p.x, 18), 470 - ay(p), 14);
}
double bumper_side(Vec3 p) { return p.x - (1936 - 0.10 * (p.z - 500)); }
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

double window_top(Vec3 p) {
  static const Curve z{{-2500, 1290}, {-2200, 1352}, {-1800, 1408}, {-1200, 1444},
                       {-600, 1454},  {-250, 1440},  {-50, 1405},   {190, 1308},
                       {360, 1212},   {520, 1108},   {665, 1010},   {790, 920}};
  return (p.z - z(p.x)) / std::hypot(1.0, z.slope(p.x));
}
double window_rear(Vec3 p) { return p.x - (-2188 + 0.30 * (p.z - 1030)); }
double sail(Vec3 p) { return p.x - (480 - 0.1 * (p.z - 1000)); }
double pillar_top(Vec3 p) { return p.x - 60; }

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

Field pillow(Field shape, double base, double height, double width) {
  return
      [=](Vec3 p) { return body_distance(p) - base - height * smooth_step(0, -width, shape(p)); };
}

}  // namespace film::demo
