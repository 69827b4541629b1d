// Cochran-Armitage: properties; R's values are in twoprop_reference_test.cpp.
#include "stats/proportions/trend.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("only the spacing of the doses matters, not their order, unit or rows") {
  std::vector<DoseGroup> groups{{0, {30, 50}}, {6, {35, 50}}, {12, {40, 50}}, {24, {44, 50}}};
  const TrendTest first = *cochran_armitage(groups);
  CHECK(first.z > 0);
  std::reverse(groups.begin(), groups.end());
  CHECK_CLOSE(cochran_armitage(groups)->z, first.z, 1e-13);
  for (DoseGroup& g : groups) g.dose = 1000 - 3600 * g.dose;
  CHECK_CLOSE(cochran_armitage(groups)->z, -first.z, 1e-12);
  std::vector<DoseGroup> split{{0, {10, 20}},  {0, {20, 30}},  {6, {35, 50}},
                               {12, {40, 50}}, {24, {44, 50}}, {48, {0, 0}}};
  CHECK_CLOSE(cochran_armitage(split)->departure.chi_squared, first.departure.chi_squared, 1e-10);
  CHECK(cochran_armitage(split)->groups.df == 3);
}

TEST_CASE("two doses leave nothing beside the trend") {
  const TrendTest t = *cochran_armitage(std::vector<DoseGroup>{{0, {9, 20}}, {24, {15, 20}}});
  CHECK_CLOSE(t.z * t.z, t.groups.chi_squared, 1e-12);
  CHECK(t.departure.df == 0);
  CHECK(t.departure.p == 1);
}

TEST_CASE("no trend without two doses or without a mixture") {
  CHECK_FALSE(cochran_armitage(std::vector<DoseGroup>{}).has_value());
  CHECK_FALSE(cochran_armitage(std::vector<DoseGroup>{{3, {1, 9}}, {3, {4, 9}}}).has_value());
  CHECK_FALSE(cochran_armitage(std::vector<DoseGroup>{{1, {0, 9}}, {3, {0, 9}}}).has_value());
  CHECK_THROWS_AS(cochran_armitage(std::vector<DoseGroup>{
                      {std::numeric_limits<double>::infinity(), {1, 9}}, {3, {4, 9}}}),
                  std::domain_error);
}
