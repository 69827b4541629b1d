// How fast stored seed ages by its moisture and the temperature it is kept at: the seed viability
// equation (Ellis & Roberts 1980, Annals of Botany 45:13-30), and the moisture that seed comes to
// in air of some humidity.
#pragma once

#include <optional>

namespace plumule::stats {

// Constants of one species. A range that nobody has published is none.
struct ViabilityConstants {
  double ke = 0, cw = 0, ch = 0, cq = 0;
  std::optional<double> moisture_from, moisture_to;        // % of fresh weight
  std::optional<double> temperature_from, temperature_to;  // degrees Celsius
};

// Days in which seed loses one probit of its viability, v = K_i - days / sigma:
//   log10 sigma = K_E - C_W log10 m - C_H t - C_Q t^2
// m: moisture in % of fresh weight, 0 < m < 100; t: degrees Celsius, -60 to 100. Throws
// std::domain_error outside them. The equation assumes sealed storage without change.
double days_to_lose_a_probit(const ViabilityConstants& constants, double moisture,
                             double temperature);

// Whether the constants were fitted there. Outside, or where a range is not known, what the
// equation gives is an extrapolation, and has proved several times too long.
bool within_range(const ViabilityConstants& constants, double moisture, double temperature);

// Moisture in % of fresh weight of seed in balance with air (Cromarty, Ellis & Roberts 1982):
//   1 - R = exp(-(M (1.1 + t / 90) / (1 - D))^2 / 440),  M in % of dry weight
// humidity R: 0 to 0.99; t: degrees Celsius, above -99; oil D: its share of dry weight, 0 to 0.9.
// Stated for R 0.1 to 0.7 and 0 to 40 C (oily seed: 15 to 25 C); six published moistures lie within
// 0.9 points. Throws std::domain_error outside what the formula takes.
double moisture_in_air(double humidity, double temperature, double oil);

}  // namespace plumule::stats
