#include "demo/detail/body.h"

#include <cmath>

#include "demo/detail/curve.h"

namespace film::demo {
namespace {

double square(double v) { return v * v; }
double fifth(double v) { return square(square(v)) * v; }
double away(double x, double z) { return std::sqrt(x * x + z * z); }

/// Half the width at the shoulder, seen from above.
const Curve& half_width() {
  static const Curve curve{{-2560, 770}, {-2300, 868}, {-2000, 925}, {-1480, 947},
                           {-800, 944},  {0, 938},     {800, 936},   {1480, 938},
                           {1900, 908},  {2150, 858},  {2360, 770}};
  return curve;
}

/// Height of the shoulder line.
double shoulder(double x) {
  static const Curve curve{{-2500, 935}, {-1480, 918}, {0, 886}, {1480, 862}, {2300, 815}};
  return curve(x);
}

/// How far the flank stands inside the shoulder's width.
double flank(double x, double z) {
  static const Curve lower{{180, 70}, {240, 46}, {300, 41}, {350, 40}, {420, 25},
                           {560, 6},  {700, 0},  {800, 0},  {1000, 0}};
  const double above = z - shoulder(x);
  const double up = soft_plus(above, 22), down = soft_plus(-above, 22);
  const double crease = smooth_step(2300, 1900, x) * smooth_step(-2520, -2200, x);
  return lower(z) + 0.38 * up + 0.0030 * up * up + crease * 11 * (1 - std::exp(-down / 60));
}

/// Swelling of the flank over the wheels.
double flare(Vec3 p) {
  const double front = away(p.x - kHalfWheelbase, p.z - kTyreRadius);
  const double rear = away(p.x + kHalfWheelbase, p.z - kTyreRadius);
  return 24 * smooth_step(590, kArchRadius + 6, front) +
         28 * smooth_step(620, kArchRadius + 6, rear);
}

double top_of_body(double x, double y) {
  static const Curve middle{{-2560, 990}, {-2350, 1010}, {-2000, 1040}, {-1200, 1060},
                            {300, 1062},  {600, 1050},   {900, 1022},   {1300, 987},
                            {1700, 940},  {2050, 876},   {2250, 818},   {2360, 776}};
  const double ay = std::fabs(y);
  const double line = 590 - 0.14 * (x - 900);  // two edges that converge towards the nose
  const double dome = smooth_step(850, 1000, x) * smooth_step(2330, 2000, x);
  return middle(x) - 46 * square(y / 800) - dome * 0.075 * soft_plus(ay - line, 26);
}

double front_face(double y, double z) {
  static const Curve profile{{180, 88}, {240, 40}, {300, 16}, {390, 0}, {460, 3},
                             {540, 20}, {620, 27}, {690, 14}, {750, 6}, {850, 20}};
  const double ay = std::fabs(y);
  return 2348 - profile(z) - 80 * square(y / 700) - 70 * fifth(ay / 820);
}

double rear_face(double y, double z) {
  static const Curve profile{{180, 120}, {260, 46}, {340, 14}, {450, 0},  {560, 2},  {640, 18},
                             {700, 42},  {780, 50}, {870, 40}, {940, 38}, {1010, 52}};
  const double ay = std::fabs(y);
  return -2548 + profile(z) + 66 * square(y / 700) + 70 * fifth(ay / 840);
}

double lower_body(Vec3 p) {
  const double ay = std::fabs(p.y);
  const double side = ay - (half_width()(p.x) - flank(p.x, p.z) + flare(p));
  const double front = p.x - front_face(p.y, p.z);
  const double rear = rear_face(p.y, p.z) - p.x;
  const double top = 0.97 * (p.z - top_of_body(p.x, p.y));
  const double bottom = 178 - p.z;
  const double round = round_common(round_common(0.98 * side, 0.97 * front, 150), 0.97 * rear, 130);
  const double lip = 34 + 26 * smooth_step(2200, 1500, p.x);
  return round_common(round_common(round, top, lip), bottom, 40);
}

double glasshouse(Vec3 p) {
  static const Curve width{{-2560, 742}, {-2300, 790}, {-1800, 832}, {-900, 852},
                           {0, 850},     {500, 832},   {950, 780}};
  static const Curve roof{{-2600, 1448}, {-2250, 1492}, {-1700, 1534}, {-1000, 1562},
                          {-400, 1566},  {100, 1540},   {500, 1485},   {900, 1400}};
  static const Curve back{{960, -2492},  {1010, -2482}, {1120, -2438}, {1250, -2374}, {1380, -2304},
                          {1430, -2286}, {1462, -2300}, {1490, -2330}, {1540, -2350}};
  const double up = p.z - 985, ay = std::fabs(p.y);
  const double side = ay - (width(p.x) - 0.27 * up - 0.00042 * up * up);
  const double ws =
      p.x - (905 - 1.42 * (p.z - 1015) - 0.00052 * square(p.z - 1015)) + 135 * square(p.y / 700);
  const double rear = back(p.z) + 88 * square(p.y / 650) + 30 * square(square(ay / 700)) - p.x;
  const double top = p.z - (roof(p.x) - 30 * square(p.y / 620) - 16 * square(square(p.y / 620)));
  const double walls = round_common(round_common(0.95 * side, 0.54 * ws, 52), 0.87 * rear, 70);
  return round_common(round_common(walls, 0.98 * top, 78), 950 - p.z, 20);
}

}  // namespace

double body_distance(Vec3 p) {
  constexpr double kJoint = 24;
  // Far from the joint one of the two alone counts, and the other costs as much again.
  if (p.z < 860) return lower_body(p);
  if (p.z > 1110) return glasshouse(p);
  return round_union(lower_body(p), glasshouse(p), kJoint);
}

double mirror_housing(Vec3 p) {
  const Vec3 r = p - kMirror;
  // Lower and shorter towards the tip, and leaning back with it.
  const double out = std::fmax(-1.0, std::fmin(1.0, r.y / 124));
  const double x = (r.x + 14 + 22 * out * out + 0.10 * r.y) / 92, y = r.y / 124;
  const double z = (r.z - 0.10 * r.y) / (74 - 10 * out);
  const double e = 3.2;
  const double norm = std::pow(
      std::pow(std::fabs(x), e) + std::pow(std::fabs(y), e) + std::pow(std::fabs(z), e), 1 / e);
  return 78 * (norm - 1);
}

double mirror_foot(Vec3 p) {
  const Vec3 a{596, 846, 992}, b{592, 990, 1026};
  const Vec3 ab = b - a;
  const double t = dot(p - a, ab) / dot(ab, ab);
  const Vec3 c = a + t * ab;
  const double x = (p.x - c.x) / (64 - 16 * t), z = (p.z - c.z) / 20;
  return 20 * (std::sqrt(x * x + z * z + 1e-9) - 1);
}

double from_axle(Vec3 p) {
  const double middle = p.x > 0 ? kHalfWheelbase : -kHalfWheelbase;
  return away(p.x - middle, p.z - kTyreRadius);
}

}  // namespace film::demo
