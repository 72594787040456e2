#include "glazing/colour.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "base/assert.h"

namespace film::glazing {
namespace {

// x and z of the CIE 1931 standard observer, 380 to 780 nm in steps of 10; y is in weights.cpp.
// Source: ISO/CIE 11664-1 (CIE 15:2004, table T.4) as reprinted in public code; checked by the
// white point of D65 and by y against the 1 nm table (tests). Terms: docs/notices.
constexpr std::array<double, 41> kX{
    0.001368, 0.004243, 0.01431,  0.04351,  0.13438, 0.2839,   0.34828, 0.3362,   0.2908,
    0.19536,  0.09564,  0.03201,  0.0049,   0.0093,  0.06327,  0.1655,  0.2904,   0.43345,
    0.5945,   0.7621,   0.9163,   1.0263,   1.0622,  1.0026,   0.85445, 0.6424,   0.4479,
    0.2835,   0.1649,   0.0874,   0.04677,  0.0227,  0.011359, 0.00579, 0.002899, 0.00144,
    0.00069,  0.000332, 0.000166, 0.000083, 0.000042};
constexpr std::array<double, 41> kZ{
    0.00645, 0.02005, 0.06785, 0.2074,  0.6456,  1.3856, 1.74706, 1.77211, 1.6692, 1.28764, 0.81295,
    0.46518, 0.272,   0.1582,  0.07825, 0.04216, 0.0203, 0.00875, 0.0039,  0.0021, 0.00165, 0.0011,
    0.0008,  0.00034, 0.00019, 0.00005, 0.00002, 0,      0,       0,       0,      0,       0,
    0,       0,       0,       0,       0,       0,      0,       0};

double total(const BandWeights& band) {
  return std::accumulate(band.weights.begin(), band.weights.end(), 0.0);
}

std::array<BandWeights, 3> make_observer() {
  const BandWeights& y = visible_weights();
  std::array<BandWeights, 3> all{y, y, y};
  all[0].name = "x";
  all[1].name = "y";
  all[2].name = "z";
  const std::array<double, 41>& light = daylight_d65();
  for (std::size_t k = 0; k < kX.size(); ++k) {
    all[0].weights[k] = light[k] * kX[k];
    all[2].weights[k] = light[k] * kZ[k];
  }
  const double whole = total(y);
  for (BandWeights& band : all) {
    for (double& weight : band.weights) weight /= whole;
  }
  return all;
}

double cube_root_part(double share) {
  constexpr double kKnee = 6.0 / 29.0;
  return share > kKnee * kKnee * kKnee ? std::cbrt(share)
                                       : share / (3 * kKnee * kKnee) + 4.0 / 29.0;
}

double degrees(double radians) { return radians * 180 / std::numbers::pi; }
double radians(double degrees) { return degrees * std::numbers::pi / 180; }

// 0 to 360; 0 for a colour without hue.
double hue(double a, double b) {
  if (a == 0 && b == 0) return 0;
  const double angle = degrees(std::atan2(b, a));
  return angle < 0 ? angle + 360 : angle;
}

}  // namespace

const std::array<BandWeights, 3>& observer_weights() {
  static const std::array<BandWeights, 3> all = make_observer();
  return all;
}

Xyz seen(const std::vector<double>& shares) {
  const auto sum = [&](const BandWeights& band) {
    FILM_ASSERT(shares.size() == band.weights.size());
    return std::inner_product(shares.begin(), shares.end(), band.weights.begin(), 0.0);
  };
  const auto& observer = observer_weights();
  return {sum(observer[0]), sum(observer[1]), sum(observer[2])};
}

Xyz white() { return seen(std::vector<double>(visible_weights().weights.size(), 1.0)); }

Lab lab(const Xyz& light) {
  const Xyz w = white();
  const double fx = cube_root_part(light.x / w.x);
  const double fy = cube_root_part(light.y / w.y);
  const double fz = cube_root_part(light.z / w.z);
  return {116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)};
}

// The symbols are those of the source.
double difference(const Lab& first, const Lab& second) {
  constexpr double k25to7 = 6103515625.0;
  const double c_mean = (std::hypot(first.a, first.b) + std::hypot(second.a, second.b)) / 2;
  const double c7 = std::pow(c_mean, 7);
  const double g = 0.5 * (1 - std::sqrt(c7 / (c7 + k25to7)));
  const double a1 = (1 + g) * first.a;
  const double a2 = (1 + g) * second.a;
  const double c1 = std::hypot(a1, first.b);
  const double c2 = std::hypot(a2, second.b);
  const double h1 = hue(a1, first.b);
  const double h2 = hue(a2, second.b);
  const bool hueless = c1 * c2 == 0;
  double dh = hueless ? 0 : h2 - h1;
  if (dh > 180) dh -= 360;
  if (dh < -180) dh += 360;
  double h = h1 + h2;
  if (!hueless) {
    if (std::fabs(h1 - h2) > 180) h += h < 360 ? 360 : -360;
    h /= 2;
  }
  const double l = (first.l + second.l) / 2;
  const double c = (c1 + c2) / 2;
  const double t = 1 - 0.17 * std::cos(radians(h - 30)) + 0.24 * std::cos(radians(2 * h)) +
                   0.32 * std::cos(radians(3 * h + 6)) - 0.20 * std::cos(radians(4 * h - 63));
  const double sl = 1 + 0.015 * (l - 50) * (l - 50) / std::sqrt(20 + (l - 50) * (l - 50));
  const double sc = 1 + 0.045 * c;
  const double sh = 1 + 0.015 * c * t;
  const double turn = 30 * std::exp(-std::pow((h - 275) / 25, 2));
  const double cc7 = std::pow(c, 7);
  const double rt = -2 * std::sqrt(cc7 / (cc7 + k25to7)) * std::sin(radians(2 * turn));
  const double dl = (second.l - first.l) / sl;
  const double dc = (c2 - c1) / sc;
  const double dhh = 2 * std::sqrt(c1 * c2) * std::sin(radians(dh / 2)) / sh;
  return std::sqrt(dl * dl + dc * dc + dhh * dhh + rt * dc * dhh);
}

LinearRgb linear_rgb(const Xyz& c) {
  return {3.2406255 * c.x - 1.5372080 * c.y - 0.4986286 * c.z,
          -0.9689307 * c.x + 1.8757561 * c.y + 0.0415175 * c.z,
          0.0557101 * c.x - 0.2040211 * c.y + 1.0569959 * c.z};
}

double encode(double amount) {
  const double light = std::clamp(amount, 0.0, 1.0);
  return light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055;
}

double decode(double shown) {
  return shown <= 0.04045 ? shown / 12.92 : std::pow((shown + 0.055) / 1.055, 2.4);
}

ShownRgb shown(const LinearRgb& light) {
  const auto part = [](double amount) {
    return static_cast<int>(std::lround(255 * encode(amount)));
  };
  return {part(light.r), part(light.g), part(light.b)};
}

Result<WindowLook> look_of(const Stack& stack) {
  const auto optics = optics_along(stack, visible_weights());
  if (!optics) return Failure(optics.error());
  std::vector<double> in, out, mirrored;
  for (const Optics& each : optics->values) {
    in.push_back(each.transmit_front);
    out.push_back(each.transmit_back);
    mirrored.push_back(each.reflect_front);
  }
  return WindowLook{seen(in), seen(out), seen(mirrored), optics->method == Method::banded};
}

Xyz seen_from_outside(const WindowLook& look, const DaylightScene& scene) {
  // Colours multiply wavelength by wavelength; the product of the averages of two passes is near
  // enough for a picture and errs by less than the guess of the cabin.
  const Xyz w = white();
  const auto part = [&](double in, double out, double mirror, double whole) {
    return scene.sky * mirror + scene.cabin * in * out / whole;
  };
  return {part(look.through.x, look.back_through.x, look.mirrored.x, w.x),
          part(look.through.y, look.back_through.y, look.mirrored.y, w.y),
          part(look.through.z, look.back_through.z, look.mirrored.z, w.z)};
}

}  // namespace film::glazing
