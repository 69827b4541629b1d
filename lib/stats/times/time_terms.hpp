// The share up at one time and its derivatives in the two working parameters of a time family: the
// inner arithmetic of the emergence model's likelihood.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "stats/numeric/gamma_terms.hpp"
#include "stats/times/time_distribution.hpp"

namespace plumule::stats {

// F at one time (lower), 1 - F (upper, to its own accuracy), and F's derivatives in u and v.
struct TimeTerms {
  double lower = 0;
  double upper = 1;
  double du = 0, dv = 0;
  double duu = 0, duv = 0, dvv = 0;
};

inline constexpr TimeTerms before_any{0, 1, 0, 0, 0, 0, 0};
inline constexpr TimeTerms after_every{1, 0, 0, 0, 0, 0, 0};

// With x the logarithm of time (less a lag, over a unit near the middle of the data):
// log-logistic, lognormal, Weibull: F = G(u + v x), v > 0, G logistic, normal, 1 - exp(-exp).
// Gamma: shape exp(v), mean exp(-u) in the unit of time.
template <TimeFamily family>
class TimeKernel {
 public:
  TimeKernel(double u, double v) : u_(u), v_(v) {
    if constexpr (family == TimeFamily::gamma) shape_ = gamma_shape(std::exp(v));
  }

  TimeTerms at(double x) const {
    if constexpr (family == TimeFamily::gamma) {
      return gamma_at(x);
    } else {
      TimeTerms t;
      const double z = u_ + v_ * x;
      double f = 0;  // G'
      double h = 0;  // G''
      if constexpr (family == TimeFamily::log_logistic) {
        const double e = std::exp(-std::fabs(z));
        const double i = 1 / (1 + e);
        t.lower = z >= 0 ? i : e * i;
        t.upper = z >= 0 ? e * i : i;
        f = e * i * i;
        h = f * (t.upper - t.lower);
      } else if constexpr (family == TimeFamily::lognormal) {
        t.lower = std::erfc(-z * std::numbers::sqrt2 / 2) / 2;
        t.upper = std::erfc(z * std::numbers::sqrt2 / 2) / 2;
        f = std::exp(-z * z / 2) * std::numbers::inv_sqrtpi * std::numbers::sqrt2 / 2;
        h = -z * f;
      } else {
        const double w = std::exp(std::min(z, 700.0));
        t.upper = std::exp(-w);
        t.lower = -std::expm1(-w);
        f = t.upper > 0 ? w * t.upper : 0;
        h = f * (1 - w);
      }
      t.du = f;
      t.dv = f * x;
      t.duu = h;
      t.duv = h * x;
      t.dvv = h * x * x;
      return t;
    }
  }

 private:
  TimeTerms gamma_at(double x) const {
    const double log_x = std::min(x + u_ + v_, 700.0);  // of shape * time / mean
    const double k = shape_.k;
    const GammaTerms g = gamma_terms(shape_, log_x);
    const double scaled = std::exp(log_x);
    const double density = std::exp(k * log_x - scaled - shape_.log_gamma);  // in log time
    const double slope = density * (k - scaled);                             // of it, in log time
    const double in_k = density * (log_x - shape_.digamma);                  // of it, in k
    return {g.lower,
            g.upper,
            density,
            density + k * g.slope,
            slope,
            slope + k * in_k,
            slope + 2 * k * in_k + k * g.slope + k * k * g.curvature};
  }

  double u_;
  double v_;
  GammaShape shape_;
};

inline TimeTerms time_terms(TimeFamily family, double u, double v, double x) {
  if (x == -HUGE_VAL) return before_any;
  switch (family) {
    case TimeFamily::log_logistic:
      return TimeKernel<TimeFamily::log_logistic>(u, v).at(x);
    case TimeFamily::lognormal:
      return TimeKernel<TimeFamily::lognormal>(u, v).at(x);
    case TimeFamily::weibull:
      return TimeKernel<TimeFamily::weibull>(u, v).at(x);
    case TimeFamily::gamma:
      break;
  }
  return TimeKernel<TimeFamily::gamma>(u, v).at(x);
}

}  // namespace plumule::stats
