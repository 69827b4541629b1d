// Thermal time: base temperature and the degree-days a crop needs to germinate or come up.
// Published heat sums and published days differ by up to 2.8 times: show both, and trust the
// grower's own.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

struct HeatSum {
  std::optional<double> base_c;       // speed falls to nothing here on the fitted line; not the
                                      // coldest soil at which seed comes up
  std::string_view best_c;            // a figure or a range, as printed
  std::string_view ceiling_c;         // likewise
  std::optional<double> degree_days;  // above the base, in degree-days C
  std::string_view event;             // "50 % emergence", "germination", ...
  Origin origin;
};

std::vector<HeatSum> heat_sums(const Crop& crop);

// degree_days / (T - base). Nothing without base and sum, and nothing within 3 C of the base or
// above 30 C, where a straight line says too little. Throws std::domain_error for NaN.
std::optional<double> days_by_heat(const HeatSum& heat, double soil_temp_c);

}  // namespace plumule::crops
