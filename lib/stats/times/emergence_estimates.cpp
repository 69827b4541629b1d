#include "stats/times/emergence_estimates.hpp"

#include <algorithm>
#include <cmath>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

double expit(double a) { return 1 / (1 + std::exp(-a)); }

std::optional<double> spread(const std::optional<Eigen::Matrix4d>& covariance,
                             const Eigen::Vector4d& gradient) {
  if (!covariance) return std::nullopt;
  const double variance = gradient.dot(*covariance * gradient);
  if (!(variance >= 0 && std::isfinite(variance))) return std::nullopt;
  return std::sqrt(variance);
}

// The error an interval rests on. Sowings that agree to a seed show no spread between sowings:
// none.
std::optional<double> telling(const Estimate& e, const ModelErrors& errors) {
  const bool by_sowing = errors.clustered && errors.df > 0;
  const auto& se = by_sowing ? e.se_clustered : e.se;
  if (!se || !(*se > 0)) return std::nullopt;
  if (by_sowing && e.se && agree_too_well(*e.se_clustered, *e.se)) return std::nullopt;
  return se;
}

// value > 0, gradient of its logarithm; reach: half the interval in standard errors.
Estimate on_log_scale(double value, const Eigen::Vector4d& gradient, const ModelErrors& errors,
                      double reach) {
  Estimate e;
  e.estimate = value;
  e.se = spread(errors.hessian, value * gradient);
  e.se_clustered = spread(errors.clustered, value * gradient);
  const auto se = telling(e, errors);
  if (!se) return e;
  const double factor = std::exp(std::min(reach * *se / value, 600.0));
  e.lower = value / factor;
  e.upper = value * factor;
  return e;
}

// value in (0, 1), gradient of value itself.
Estimate on_logit_scale(double value, const Eigen::Vector4d& gradient, const ModelErrors& errors,
                        double reach) {
  Estimate e;
  e.estimate = value;
  e.se = spread(errors.hessian, gradient);
  e.se_clustered = spread(errors.clustered, gradient);
  const auto se = telling(e, errors);
  const double w = value * (1 - value);
  if (!se || !(w > 1e-12)) return e;
  const double logit = std::log(value / (1 - value));
  e.lower = expit(logit - reach * *se / w);
  e.upper = expit(logit + reach * *se / w);
  return e;
}

double standard_quantile(TimeFamily family, double p) {
  switch (family) {
    case TimeFamily::log_logistic:
      return std::log(p / (1 - p));
    case TimeFamily::lognormal:
      return normal_quantile(p);
    case TimeFamily::weibull:
      return std::log(-std::log1p(-p));
    case TimeFamily::gamma:
      break;
  }
  return 0;
}

// log of the time after the lag, in days, and its gradient.
LogTime log_time_after_lag(TimeFamily family, const WorkingPoint& w, double unit, double p) {
  LogTime t;
  if (family == TimeFamily::gamma) {
    const double log_x = std::log(gamma_quantile(p, std::exp(w.v)));
    t.value = std::log(unit) + log_x - w.u - w.v;
    const TimeTerms terms = TimeKernel<TimeFamily::gamma>(w.u, w.v).at(log_x - w.u - w.v);
    t.gradient << 0, -1, -terms.dv / terms.du, 0;
  } else {
    const double x = (standard_quantile(family, p) - w.u) / w.v;
    t.value = std::log(unit) + x;
    t.gradient << 0, -1 / w.v, -x / w.v, 0;
  }
  return t;
}

}  // namespace

LogTime log_time_of_share(TimeFamily family, const EmergenceMaximum& maximum, double unit,
                          double p) {
  LogTime t = log_time_after_lag(family, maximum.point, unit, p);
  if (maximum.lag == 0) return t;
  const double after = std::exp(t.value);
  const double day = maximum.lag + after;
  t.gradient *= after / day;
  t.gradient[3] = 1 / day;
  t.value = std::log(day);
  return t;
}

void describe(EmergenceModel& model, TimeFamily family, const EmergenceMaximum& maximum,
              double unit, double last_look, const ModelErrors& errors) {
  const WorkingPoint& w = maximum.point;
  const double tail = (1 - errors.level) / 2;
  const double reach = errors.clustered && errors.df > 0 ? student_t_quantile_upper(tail, errors.df)
                                                         : -normal_quantile(tail);
  const auto at = [&](double p) {
    const LogTime t = log_time_of_share(family, maximum, unit, p);
    return on_log_scale(std::exp(t.value), t.gradient, errors, reach);
  };
  model.t10 = at(0.10);
  model.t25 = at(0.25);
  model.t50 = at(0.50);
  model.t75 = at(0.75);
  model.t90 = at(0.90);

  Eigen::Vector4d log_shape(0, 0, 1 / w.v, 0);
  Eigen::Vector4d log_scale(0, -1 / w.v, w.u / (w.v * w.v), 0);
  TimeDistribution& d = model.distribution;
  d = {family, w.v, unit * std::exp(-w.u / w.v), maximum.lag};
  if (family == TimeFamily::lognormal) {
    d.shape = 1 / w.v;
    log_shape = -log_shape;
  } else if (family == TimeFamily::gamma) {
    d.shape = std::exp(w.v);
    d.scale = unit * std::exp(-w.u - w.v);
    log_shape << 0, 0, 1, 0;
    log_scale << 0, -1, -1, 0;
  }
  model.shape = on_log_scale(d.shape, log_shape, errors, reach);
  model.scale = on_log_scale(d.scale, log_scale, errors, reach);
  if (maximum.lag > 0)
    model.lag = on_log_scale(maximum.lag, Eigen::Vector4d(0, 0, 0, 1 / maximum.lag), errors, reach);

  const double p = maximum.whole ? 1 : expit(w.a);
  const double dp = maximum.whole ? 0 : p * (1 - p);
  model.fraction_at_one = maximum.whole;
  if (maximum.whole)
    model.fraction = {1, {}, {}, {}, {}};
  else
    model.fraction = on_logit_scale(p, Eigen::Vector4d(dp, 0, 0, 0), errors, reach);

  const double after_lag = last_look - maximum.lag;
  const TimeTerms seen =
      time_terms(family, w.u, w.v, after_lag > 0 ? std::log(after_lag / unit) : -HUGE_VAL);
  model.share_seen = seen.lower;
  const double in_log_time = family == TimeFamily::gamma ? seen.du : w.v * seen.du;
  const double in_lag = after_lag > 0 ? -in_log_time / after_lag : 0;
  const Eigen::Vector4d seen_gradient(dp * seen.lower, p * seen.du, p * seen.dv, p * in_lag);
  model.up_by_last_look = on_logit_scale(p * seen.lower, seen_gradient, errors, reach);
}

}  // namespace plumule::stats
