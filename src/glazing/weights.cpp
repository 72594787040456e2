#include <array>
#include <cstddef>
#include <string>
#include <utility>

#include "glazing/spectrum.h"

// The tables, where they come from and on what terms: docs/notices/glazing-tables.md.

namespace film::glazing {
namespace {

// CIE standard illuminant D65, 380 to 780 nm in steps of 10. Source: ISO 10526 / CIE S 005.
constexpr std::array<double, 41> kD65{49.9755, 54.6482, 82.7549, 91.486,  93.4318, 86.6823, 104.865,
                                      117.008, 117.812, 114.861, 115.923, 108.811, 109.354, 107.802,
                                      104.79,  107.689, 104.405, 104.046, 100,     96.3342, 95.788,
                                      88.6856, 90.0062, 89.5991, 87.6987, 83.2886, 83.6992, 80.0268,
                                      80.2146, 82.2778, 78.2842, 69.7213, 71.6091, 74.349,  61.604,
                                      69.8856, 75.087,  63.5927, 46.4182, 66.8054, 63.3828};

// CIE photopic luminous efficiency V(lambda), the same wavelengths. Source: ISO 10527 / CIE S 002
// (the 1931 y function).
constexpr std::array<double, 41> kPhotopic{
    0.000039,  0.00012, 0.000396, 0.00121, 0.004,   0.0116,   0.023,    0.038,    0.06,
    0.09098,   0.13902, 0.20802,  0.323,   0.503,   0.71,     0.862,    0.954,    0.99495,
    0.995,     0.952,   0.87,     0.757,   0.631,   0.503,    0.381,    0.265,    0.175,
    0.107,     0.061,   0.032,    0.017,   0.00821, 0.004102, 0.002091, 0.001047, 0.00052,
    0.0002492, 0.00012, 0.00006,  0.00003, 0.000015};

struct Weight {
  double wavelength;
  double weight;
};

// Direct sunlight times the width of its step. Source: the 56 values that LBNL's
// Windows-CalcEngine uses in its EN 410 test; not compared with the text of EN 410.
constexpr std::array<Weight, 56> kSolar{{
    {300, 0.0005},  {320, 0.0069},  {340, 0.0122},  {360, 0.0145},  {380, 0.0177},  {400, 0.0235},
    {420, 0.0268},  {440, 0.0294},  {460, 0.0343},  {480, 0.0339},  {500, 0.0326},  {520, 0.0318},
    {540, 0.0321},  {560, 0.0312},  {580, 0.0294},  {600, 0.0289},  {620, 0.0289},  {640, 0.028},
    {660, 0.0273},  {680, 0.0246},  {700, 0.0237},  {720, 0.022},   {740, 0.023},   {760, 0.0199},
    {780, 0.0211},  {800, 0.033},   {850, 0.0453},  {900, 0.0381},  {950, 0.022},   {1000, 0.0329},
    {1050, 0.0306}, {1100, 0.0185}, {1150, 0.0136}, {1200, 0.021},  {1250, 0.0211}, {1300, 0.0166},
    {1350, 0.0042}, {1400, 0.001},  {1450, 0.0044}, {1500, 0.0095}, {1550, 0.0123}, {1600, 0.011},
    {1650, 0.0106}, {1700, 0.0093}, {1750, 0.0068}, {1800, 0.0024}, {1850, 0.0005}, {1900, 0.0002},
    {1950, 0.0012}, {2000, 0.003},  {2050, 0.0037}, {2100, 0.0057}, {2200, 0.0066}, {2300, 0.006},
    {2400, 0.0041}, {2500, 0.0006},
}};

// Sunlight on a tilted surface, integrated here over cells of 5 nm. Source: ASTM G173-03, global
// tilt.
constexpr std::array<Weight, 17> kUltraviolet{{
    {300, 0.00018},
    {305, 0.00248},
    {310, 0.00941},
    {315, 0.02024},
    {320, 0.03291},
    {325, 0.04821},
    {330, 0.06483},
    {335, 0.06518},
    {340, 0.07307},
    {345, 0.07318},
    {350, 0.07875},
    {355, 0.08551},
    {360, 0.07929},
    {365, 0.10146},
    {370, 0.10804},
    {375, 0.09759},
    {380, 0.05965},
}};

template <std::size_t N>
BandWeights table(std::string name, std::string basis, const std::array<Weight, N>& rows) {
  BandWeights band{std::move(name), std::move(basis), {}, {}};
  for (const Weight& row : rows) {
    band.wavelengths.push_back(Nm{row.wavelength});
    band.weights.push_back(row.weight);
  }
  return band;
}

BandWeights daylight_seen() {
  BandWeights band{"visible", "CIE D65 times V(lambda), 380 to 780 nm in steps of 10 nm", {}, {}};
  for (std::size_t k = 0; k < kD65.size(); ++k) {
    band.wavelengths.push_back(Nm{380 + 10 * static_cast<double>(k)});
    band.weights.push_back(kD65[k] * kPhotopic[k]);
  }
  return band;
}

}  // namespace

const std::array<double, 41>& daylight_d65() { return kD65; }
const std::array<double, 41>& eye_by_day() { return kPhotopic; }

const BandWeights& visible_weights() {
  static const BandWeights band = daylight_seen();
  return band;
}

const BandWeights& solar_weights() {
  static const BandWeights band =
      table("solar", "direct sunlight, 56 weights from 300 to 2500 nm", kSolar);
  return band;
}

const BandWeights& infrared_weights() {
  static const BandWeights band = [] {
    BandWeights all{"infrared", "direct sunlight, the weights from 780 to 2500 nm", {}, {}};
    for (const Weight& row : kSolar) {
      if (row.wavelength < 780) continue;
      all.wavelengths.push_back(Nm{row.wavelength});
      all.weights.push_back(row.weight);
    }
    return all;
  }();
  return band;
}

const BandWeights& ultraviolet_weights() {
  static const BandWeights band =
      table("uv", "global sunlight (ASTM G173), 300 to 380 nm in steps of 5 nm", kUltraviolet);
  return band;
}

}  // namespace film::glazing
