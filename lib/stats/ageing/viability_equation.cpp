#include "stats/ageing/viability_equation.hpp"

#include <cmath>
#include <stdexcept>

namespace plumule::stats {

double days_to_lose_a_probit(const ViabilityConstants& constants, double moisture,
                             double temperature) {
  if (!(moisture > 0 && moisture < 100))
    throw std::domain_error("seed moisture lies between 0 and 100 % of fresh weight");
  if (!(temperature >= -60 && temperature <= 100))
    throw std::domain_error("a storage temperature lies between -60 and 100 degrees Celsius");
  const double t = temperature;
  return std::pow(10, constants.ke - constants.cw * std::log10(moisture) - constants.ch * t -
                          constants.cq * t * t);
}

bool within_range(const ViabilityConstants& constants, double moisture, double temperature) {
  return constants.moisture_from && constants.moisture_to && constants.temperature_from &&
         constants.temperature_to && moisture >= *constants.moisture_from &&
         moisture <= *constants.moisture_to && temperature >= *constants.temperature_from &&
         temperature <= *constants.temperature_to;
}

double moisture_in_air(double humidity, double temperature, double oil) {
  if (!(humidity >= 0 && humidity <= 0.99))
    throw std::domain_error("a relative humidity lies between 0 and 0.99");
  if (!(temperature > -99 && temperature <= 100))
    throw std::domain_error("a temperature of air lies between -99 and 100 degrees Celsius");
  if (!(oil >= 0 && oil <= 0.9)) throw std::domain_error("a share of oil lies between 0 and 0.9");
  const double dry = (1 - oil) * std::sqrt(-440 * std::log1p(-humidity)) / (1.1 + temperature / 90);
  return 100 * dry / (100 + dry);
}

}  // namespace plumule::stats
