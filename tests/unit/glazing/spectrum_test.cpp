#include "glazing/spectrum.h"

#include <numeric>

#include <gtest/gtest.h>

#include "unit/glazing/tables.h"

namespace film::glazing {
namespace {

TEST(Spectrum, ReadsLinearlyBetweenSamplesAndNothingOutside) {
  const SpectralOptics spectrum{{Nm{400}, Nm{500}}, {symmetric(0.2, 0.1), symmetric(0.4, 0.3)}};
  EXPECT_NEAR(spectrum.at(Nm{450})->transmit_front, 0.3, 1e-15);
  EXPECT_EQ(spectrum.at(Nm{500}), symmetric(0.4, 0.3));
  EXPECT_FALSE(spectrum.at(Nm{399}));
  EXPECT_FALSE(spectrum.at(Nm{501}));
}

TEST(Spectrum, NamesWhatIsWrong) {
  SpectralOptics spectrum{{Nm{400}, Nm{400}}, {symmetric(0.2, 0.1), symmetric(0.4, 0.3)}};
  EXPECT_NE(fault_of(spectrum)->what.find("rise"), std::string::npos);
  spectrum.wavelengths[1] = Nm{500};
  EXPECT_FALSE(fault_of(spectrum));
  spectrum.values[1] = symmetric(0.8, 0.3);
  EXPECT_EQ(fault_of(spectrum)->where, "at 500 nm");
}

// A density and the weights made of it give the same average; summing the density itself, or
// integrating the weights, would not compile or not agree.
TEST(Spectrum, WeightsOfADensityAverageLikeTheDensity) {
  const SpectralDensity density{
      "d", "", {Nm{300}, Nm{310}, Nm{350}, Nm{360}}, {1.0, 4.0, 2.0, 0.5}};
  const std::vector<double> values{0.1, 0.9, 0.4, 0.7};
  EXPECT_NEAR(average(density, values), average(weights_of(density), values), 1e-15);
}

TEST(Spectrum, CellsOfACoarserGridKeepTheWholeIntegral) {
  SpectralDensity density{"d", "", {}, {}};
  double integral = 0;
  for (int k = 0; k <= 100; ++k) {
    density.wavelengths.push_back(Nm{300.0 + k});
    density.densities.push_back(1.0 + (k * 37 % 11));
    if (k > 0)
      integral += (density.densities.back() + density.densities[density.densities.size() - 2]) / 2;
  }
  const BandWeights cells = weights_of(density, {Nm{300}, Nm{330}, Nm{333}, Nm{400}});
  EXPECT_NEAR(std::accumulate(cells.weights.begin(), cells.weights.end(), 0.0), integral, 1e-9);
}

// Source: CIE D65 and V(lambda) in steps of 1 nm (ISO 10526, 10527) as held by LBNL's
// Windows-CalcStandards: our shipped numbers are theirs at every tenth wavelength.
TEST(Weights, VisibleAgreesWithTheFineTablesOfTheCie) {
  const BandWeights& visible = visible_weights();
  ASSERT_EQ(visible.wavelengths.size(), 41U);
  const auto fine = rows_of("d65_vlambda_1nm.csv");
  for (std::size_t k = 0; k < 41; ++k) {
    const auto& row = fine[10 * k];
    EXPECT_EQ(row[0], visible.wavelengths[k].value);
    EXPECT_NEAR(row[1] * row[2], visible.weights[k], 1e-4);
  }
}

TEST(Weights, VisibleAgreesWithTheTableInPercent) {
  const BandWeights& visible = visible_weights();
  const double sum = std::accumulate(visible.weights.begin(), visible.weights.end(), 0.0);
  const auto coarse = rows_of("d65_vlambda_10nm.csv");
  for (std::size_t k = 0; k < 41; ++k) {
    EXPECT_NEAR(coarse[k][1], 100 * visible.weights[k] / sum, 1e-5);
  }
}

TEST(Weights, SolarIsThe56ValueTable) {
  const auto rows = rows_of("solar_direct_en410_weights.csv");
  ASSERT_EQ(rows.size(), solar_weights().weights.size());
  for (std::size_t k = 0; k < rows.size(); ++k) {
    EXPECT_EQ(rows[k][0], solar_weights().wavelengths[k].value);
    EXPECT_EQ(rows[k][1], solar_weights().weights[k]);
  }
  const auto& weights = solar_weights().weights;
  EXPECT_NEAR(std::accumulate(weights.begin(), weights.end(), 0.0), 1.0, 1e-12);
}

// Source: ASTM G173-03 global tilt, integrated again here.
TEST(Weights, UltravioletIsTheSunsUltraviolet) {
  SpectralDensity sun{"uv", "", {}, {}};
  for (const auto& row : rows_of("g173_am15.csv")) {
    sun.wavelengths.push_back(Nm{row[0]});
    sun.densities.push_back(row[1]);
  }
  const BandWeights& shipped = ultraviolet_weights();
  const BandWeights again = weights_of(sun, shipped.wavelengths);
  const double sum = std::accumulate(again.weights.begin(), again.weights.end(), 0.0);
  for (std::size_t k = 0; k < again.weights.size(); ++k) {
    EXPECT_NEAR(shipped.weights[k], again.weights[k] / sum, 5.1e-6);
  }
}

}  // namespace
}  // namespace film::glazing
