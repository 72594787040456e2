#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "hours/regression.h"

/// The linear regression sets of the Statistical Reference Datasets of NIST with the values that
/// NIST certifies to 15 digits (https://www.itl.nist.gov/div898/strd/lls/lls.shtml). All eleven:
/// Norris, Pontius (lower difficulty); NoInt1, NoInt2 (average); Filip, Longley, Wampler1 to 5
/// (higher). The y of Wampler1 and 2 are polynomials, those of 3 to 5 the first one with a fixed
/// disturbance; NIST prints the same numbers.
namespace film::strd {

using Real = hours::Regression::Real;

struct DataSet {
  std::string name;
  bool constant = true;  ///< the model has a constant term
  int degree = 1;        ///< of the polynomial in the only predictor
  std::vector<double> y;
  std::vector<std::vector<double>> x;  ///< by observation
  std::vector<double> coefficients;    ///< certified
  std::vector<double> errors;          ///< certified standard deviations
  double residual_deviation = 0;       ///< certified
  double r_squared = 1;                ///< certified
};

/// The observation's row of the model. Powers are taken in the precision of the regression:
/// rounded earlier they would be other data.
inline std::vector<Real> row_of(const DataSet& set, std::size_t i) {
  std::vector<Real> row;
  if (set.constant) row.push_back(1);
  for (const double x : set.x[i]) {
    Real power = 1;
    for (int k = 0; k < set.degree; ++k) row.push_back(power *= x);
  }
  return row;
}

inline hours::Regression fit(const DataSet& set) {
  hours::Regression regression(set.coefficients.size());
  for (std::size_t i = 0; i < set.y.size(); ++i) regression.learn(row_of(set, i), set.y[i]);
  return regression;
}

/// As certified: about the mean where there is a constant, else about zero.
inline double r_squared(const DataSet& set, const hours::Regression& regression) {
  Real mean = 0;
  for (const double y : set.y) mean += y;
  mean = set.constant ? mean / static_cast<Real>(set.y.size()) : 0;
  Real total = 0;
  for (const double y : set.y) total += (y - mean) * (y - mean);
  return static_cast<double>(1 - static_cast<Real>(regression.residual_sum()) / total);
}

/// Significant digits in which a value agrees with the certified one, 15 at most (all that is
/// certified). A certified zero is held against one.
inline double digits(double value, double certified) {
  const double off =
      certified == 0 ? std::abs(value) : std::abs(value - certified) / std::abs(certified);
  return off == 0 ? 15 : std::min(15.0, -std::log10(off));
}

inline std::vector<std::vector<double>> column(const std::vector<double>& values) {
  std::vector<std::vector<double>> rows;
  for (const double value : values) rows.push_back({value});
  return rows;
}

inline DataSet norris() {
  return {"Norris",
          true,
          1,
          {0.1, 338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
           0.1, 778.1, 668.8, 339.3, 448.9, 10.8,  557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
           0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2},
          column({0.2, 337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
                  0.6, 775.5, 666.9, 338.0, 447.5, 11.6,  556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
                  0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5}),
          {-0.262323073774029, 1.00211681802045},
          {0.232818234301152, 0.429796848199937E-03},
          0.884796396144373,
          0.999993745883712};
}

inline DataSet pontius() {
  std::vector<double> load;
  for (int run = 0; run < 2; ++run) {
    for (int step = 1; step <= 20; ++step) load.push_back(150000.0 * step);
  }
  return {
      "Pontius",
      true,
      2,
      {.11019,  .21956,  .32949,  .43899,  .54803,  .65694,  .76562,  .87487,  .98292,  1.09146,
       1.20001, 1.30822, 1.41599, 1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844,
       .11052,  .22018,  .32939,  .43886,  .54798,  .65739,  .76596,  .87474,  .98300,  1.09150,
       1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177, 2.16829},
      column(load),
      {0.673565789473684E-03, 0.732059160401003E-06, -0.316081871345029E-14},
      {0.107938612033077E-03, 0.157817399981659E-09, 0.486652849992036E-16},
      0.205177424076185E-03,
      0.999999900178537};
}

inline DataSet no_int_1() {
  return {"NoInt1",
          false,
          1,
          {130, 131, 132, 133, 134, 135, 136, 137, 138, 139, 140},
          column({60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 70}),
          {2.07438016528926},
          {0.165289256198347E-01},
          3.56753034006338,
          0.999365492298663};
}

inline DataSet no_int_2() {
  return {"NoInt2",
          false,
          1,
          {3, 4, 4},
          column({4, 5, 6}),
          {0.727272727272727},
          {0.420827318078432E-01},
          0.369274472937998,
          0.993348115299335};
}

inline DataSet filip() {
  return {
      "Filip",
      true,
      10,
      {0.8116, 0.9072, 0.9052, 0.9039, 0.8053, 0.8377, 0.8667, 0.8809, 0.7975, 0.8162, 0.8515,
       0.8766, 0.8885, 0.8859, 0.8959, 0.8913, 0.8959, 0.8971, 0.9021, 0.909,  0.9139, 0.9199,
       0.8692, 0.8872, 0.89,   0.891,  0.8977, 0.9035, 0.9078, 0.7675, 0.7705, 0.7713, 0.7736,
       0.7775, 0.7841, 0.7971, 0.8329, 0.8641, 0.8804, 0.7668, 0.7633, 0.7678, 0.7697, 0.77,
       0.7749, 0.7796, 0.7897, 0.8131, 0.8498, 0.8741, 0.8061, 0.846,  0.8751, 0.8856, 0.8919,
       0.8934, 0.894,  0.8957, 0.9047, 0.9129, 0.9209, 0.9219, 0.7739, 0.7681, 0.7665, 0.7703,
       0.7702, 0.7761, 0.7809, 0.7961, 0.8253, 0.8602, 0.8809, 0.8301, 0.8664, 0.8834, 0.8898,
       0.8964, 0.8963, 0.9074, 0.9119, 0.9228},
      column({-6.860120914, -4.324130045, -4.358625055, -4.358426747, -6.955852379, -6.661145254,
              -6.355462942, -6.118102026, -7.115148017, -6.815308569, -6.519993057, -6.204119983,
              -5.853871964, -6.109523091, -5.79832982,  -5.482672118, -5.171791386, -4.851705903,
              -4.517126416, -4.143573228, -3.709075441, -3.499489089, -6.300769497, -5.953504836,
              -5.642065153, -5.031376979, -4.680685696, -4.329846955, -3.928486195, -8.56735134,
              -8.363211311, -8.107682739, -7.823908741, -7.522878745, -7.218819279, -6.920818754,
              -6.628932138, -6.323946875, -5.991399828, -8.781464495, -8.663140179, -8.473531488,
              -8.247337057, -7.971428747, -7.676129393, -7.352812702, -7.072065318, -6.774174009,
              -6.478861916, -6.159517513, -6.835647144, -6.53165267,  -6.224098421, -5.910094889,
              -5.598599459, -5.290645224, -4.974284616, -4.64454848,  -4.290560426, -3.885055584,
              -3.408378962, -3.13200249,  -8.726767166, -8.66695597,  -8.511026475, -8.165388579,
              -7.886056648, -7.588043762, -7.283412422, -6.995678626, -6.691862621, -6.392544977,
              -6.067374056, -6.684029655, -6.378719832, -6.065855188, -5.752272167, -5.132414673,
              -4.811352704, -4.098269308, -3.66174277,  -3.2644011}),
      {-1467.48961422980, -2772.17959193342, -2316.37108160893, -1127.97394098372,
       -354.478233703349, -75.1242017393757, -10.8753180355343, -1.06221498588947,
       -0.670191154593408E-01, -0.246781078275479E-02, -0.402962525080404E-04},
      {298.084530995537, 559.779865474950, 466.477572127796, 227.204274477751, 71.6478660875927,
       15.2897178747400, 2.23691159816033, 0.221624321934227, 0.142363763154724E-01,
       0.535617408889821E-03, 0.896632837373868E-05},
      0.334801051324544E-02,
      0.996727416185620};
}

inline DataSet longley() {
  return {"Longley",
          true,
          1,
          {60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513,
           68655, 69564, 69331, 70551},
          {{83.0, 234289, 2356, 1590, 107608, 1947},
           {88.5, 259426, 2325, 1456, 108632, 1948},
           {88.2, 258054, 3682, 1616, 109773, 1949},
           {89.5, 284599, 3351, 1650, 110929, 1950},
           {96.2, 328975, 2099, 3099, 112075, 1951},
           {98.1, 346999, 1932, 3594, 113270, 1952},
           {99.0, 365385, 1870, 3547, 115094, 1953},
           {100.0, 363112, 3578, 3350, 116219, 1954},
           {101.2, 397469, 2904, 3048, 117388, 1955},
           {104.6, 419180, 2822, 2857, 118734, 1956},
           {108.4, 442769, 2936, 2798, 120445, 1957},
           {110.8, 444546, 4681, 2637, 121950, 1958},
           {112.6, 482704, 3813, 2552, 123366, 1959},
           {114.2, 502601, 3931, 2514, 125368, 1960},
           {115.7, 518173, 4806, 2572, 127852, 1961},
           {116.9, 554894, 4007, 2827, 130081, 1962}},
          {-3482258.63459582, 15.0618722713733, -0.358191792925910E-01, -2.02022980381683,
           -1.03322686717359, -0.511041056535807E-01, 1829.15146461355},
          {890420.383607373, 84.9149257747669, 0.334910077722432E-01, 0.488399681651699,
           0.214274163161675, 0.226073200069370, 455.478499142212},
          304.854073561965,
          0.995479004577296};
}

/// Wampler's five: a quintic at x = 0 to 20 whose coefficients are `base`^k, and for the last three
/// the first with a disturbance `scale` times as large.
inline DataSet wampler(int number) {
  static const std::vector<double> kDisturbance{759,   -2048, 2048,  -2048, 2523,  -2048, 2048,
                                                -2048, 1838,  -2048, 2048,  -2048, 1838,  -2048,
                                                2048,  -2048, 2523,  -2048, 2048,  -2048, 759};
  const double scale = number == 3 ? 1 : number == 4 ? 100 : number == 5 ? 10000 : 0;
  DataSet set{"Wampler" + std::to_string(number), true, 5, {}, {}, {}, {}, 0, 1};
  for (int x = 0; x <= 20; ++x) {
    double y = 0;
    for (int k = 5; k >= 0; --k) y = number == 2 ? y * x + std::pow(10, 5 - k) : y * x + 1;
    if (number == 2) y = std::round(y) / 1e5;
    set.y.push_back(y + scale * kDisturbance[static_cast<std::size_t>(x)]);
    set.x.push_back({static_cast<double>(x)});
  }
  for (int k = 0; k <= 5; ++k) set.coefficients.push_back(number == 2 ? std::pow(10, -k) : 1);
  set.errors.assign(6, 0);
  if (scale > 0) {
    set.errors = {2152.32624678170, 2363.55173469681, 779.343524331583,
                  101.475507550350, 5.64566512170752, 0.112324854679312};
    for (double& error : set.errors) error *= scale;
    set.residual_deviation = 2360.14502379268 * scale;
  }
  if (number == 3) set.r_squared = 0.999995559025820;
  if (number == 4) set.r_squared = 0.957478440825662;
  if (number == 5) set.r_squared = 0.224668921574940E-02;
  return set;
}

inline std::vector<DataSet> all() {
  return {norris(),   pontius(),  no_int_1(), no_int_2(), filip(),   longley(),
          wampler(1), wampler(2), wampler(3), wampler(4), wampler(5)};
}

}  // namespace film::strd
