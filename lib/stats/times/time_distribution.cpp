#include "stats/times/time_distribution.hpp"

#include <cmath>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

void check(const TimeDistribution& d) {
  if (!(d.shape > 0 && std::isfinite(d.shape) && d.scale > 0 && std::isfinite(d.scale)))
    throw std::domain_error("the shape and scale of emergence times must be finite and above 0");
  if (!(d.lag >= 0 && std::isfinite(d.lag)))
    throw std::domain_error("the lag before emergence must be finite and 0 or more");
}

double tail(const TimeDistribution& d, double t, bool upper) {
  check(d);
  if (std::isnan(t)) throw std::domain_error("a time after sowing must be a number");
  const double x = (t - d.lag) / d.scale;
  if (!(x > 0)) return upper ? 1 : 0;
  if (std::isinf(x)) return upper ? 0 : 1;
  switch (d.family) {
    case TimeFamily::log_logistic: {
      const double w = std::pow(x, -d.shape);
      if (std::isinf(w)) return upper ? 1 : 0;
      return (upper ? w : 1) / (1 + w);
    }
    case TimeFamily::lognormal: {
      const double z = std::log(x) / d.shape;
      return upper ? normal_upper(z) : normal_lower(z);
    }
    case TimeFamily::weibull: {
      const double w = std::pow(x, d.shape);
      return upper ? std::exp(-w) : -std::expm1(-w);
    }
    case TimeFamily::gamma:
      break;
  }
  return upper ? gamma_upper(x, d.shape) : gamma_lower(x, d.shape);
}

}  // namespace

double share_up(const TimeDistribution& distribution, double t) {
  return tail(distribution, t, false);
}

double share_to_come(const TimeDistribution& distribution, double t) {
  return tail(distribution, t, true);
}

double time_of_share(const TimeDistribution& distribution, double p) {
  const TimeDistribution& d = distribution;
  check(d);
  if (!(p > 0 && p < 1)) throw std::domain_error("the share of a time must lie between 0 and 1");
  switch (d.family) {
    case TimeFamily::log_logistic:
      return d.lag + d.scale * std::pow(p / (1 - p), 1 / d.shape);
    case TimeFamily::lognormal:
      return d.lag + d.scale * std::exp(d.shape * normal_quantile(p));
    case TimeFamily::weibull:
      return d.lag + d.scale * std::pow(-std::log1p(-p), 1 / d.shape);
    case TimeFamily::gamma:
      break;
  }
  return d.lag + d.scale * gamma_quantile(p, d.shape);
}

}  // namespace plumule::stats
