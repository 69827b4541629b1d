// See the header.
#include "stats/inference/interval.hpp"

#include <stdexcept>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {

double tail_probability(double level, Side side) {
  if (!(level > 0 && level < 1))
    throw std::domain_error("the level of an interval must lie between 0 and 1, 0.95 for 95 %");
  return side == Side::both ? (1 - level) / 2 : 1 - level;
}

double normal_deviate(double level, Side side) {
  return -normal_quantile(tail_probability(level, side));
}

}  // namespace plumule::stats
