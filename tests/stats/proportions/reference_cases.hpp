// Reading the inputs of the reference tables of two proportions: "45/50 vs 38/50" and its
// relatives.
#pragma once

#include <string>
#include <vector>

#include "stats/proportions/trend.hpp"

namespace plumule::tests {

// Every number in the text, in order; everything else is a separator.
std::vector<double> numbers_in(const std::string& text);

// "45/50 vs 38/50"; several, parted by semicolons.
stats::TwoByTwo table_in(const std::string& text);
std::vector<stats::TwoByTwo> strata_in(const std::string& text);

// "x=[30, 35] n=[50, 50] dose=[0, 6]".
std::vector<stats::DoseGroup> doses_in(const std::string& text);

}  // namespace plumule::tests
