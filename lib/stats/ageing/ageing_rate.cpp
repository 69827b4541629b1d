#include "stats/ageing/ageing_rate.hpp"

#include <cmath>
#include <stdexcept>

namespace plumule::stats {
namespace {

constexpr double probits_of_a_life = 0.88;

}  // namespace

AgeingRate ageing_by_lists(double years) {
  if (!(years > 0) || !std::isfinite(years))
    throw std::domain_error("years of seed life must be above 0");
  return {years / probits_of_a_life * days_in_year};
}

AgeingRate ageing_by_equation(double days) {
  if (!(days > 0) || !std::isfinite(days))
    throw std::domain_error("days to lose a probit must be above 0");
  return {days};
}

}  // namespace plumule::stats
