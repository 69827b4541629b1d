#include "peers_steps.hpp"

#include <cmath>

#include "stats/proportions/fisher.hpp"
#include "stats/proportions/two_proportions.hpp"

namespace plumule::peers {

Fit fit(std::span<const stats::Span> pooled) {
  const auto top = stats::maximise_emergence(pooled, stats::TimeFamily::log_logistic, false, false);
  const double u = top.point.u;
  const double v = top.point.v;
  Fit result;
  result.converged = top.converged;
  result.whole = top.whole;
  result.loglik = top.loglik;
  result.logit = top.point.a;
  result.log_median = std::log(stats::time_unit(pooled)) - u / v;
  result.log_spread = -std::log(v);
  // log median = -u / v, log spread = -log v
  const auto& c = top.covariance;
  const double in_u = -1 / v;
  const double in_v = u / (v * v);
  result.se_logit = std::sqrt(c[0]);
  result.se_log_median =
      std::sqrt(in_u * in_u * c[5] + 2 * in_u * in_v * c[6] + in_v * in_v * c[10]);
  result.se_log_spread = std::sqrt(c[10]) / v;
  return result;
}

namespace {

ArmFigures arm_figures(std::span<const stats::TimeCourse> courses, const stats::Pool& pool) {
  const stats::Tally tally(pool.emerged, pool.units);
  return {stats::wilson(tally), stats::clopper_pearson(tally), stats::emergence_indices(courses),
          stats::npmle(pool.spans), fit(pool.spans)};
}

}  // namespace

Figures figures(std::span<const stats::TimeCourse> dry, std::span<const stats::TimeCourse> soaked) {
  const std::array<stats::Pool, 2> pools = {stats::pool(dry), stats::pool(soaked)};
  const stats::TwoByTwo table(pools[1].emerged, pools[1].units, pools[0].emerged, pools[0].units);
  return {{arm_figures(dry, pools[0]), arm_figures(soaked, pools[1])},
          stats::newcombe_difference(table),
          stats::fisher(table)};
}

}  // namespace plumule::peers
