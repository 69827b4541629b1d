#include "stats/times/sowing_scores.hpp"

#include <algorithm>

namespace plumule::stats {

Eigen::Matrix4d score_products(std::span<const Span> pooled,
                               std::span<const std::vector<Span>> units, TimeFamily family,
                               const EmergenceMaximum& maximum, double unit) {
  const auto at = [&](double lag) {
    GroupedLikelihood likelihood(pooled, unit, lag);
    likelihood.value(family, maximum.point, maximum.whole);
    return likelihood;
  };
  const double h = 1e-4 * maximum.lag;
  const GroupedLikelihood here = at(maximum.lag);
  std::vector<double> in_lag(units.size(), 0.0);
  if (h > 0) {
    const GroupedLikelihood more = at(maximum.lag + h), less = at(maximum.lag - h);
    for (std::size_t i = 0; i < units.size(); ++i)
      in_lag[i] = (more.value_of(units[i], maximum.point, maximum.whole).loglik -
                   less.value_of(units[i], maximum.point, maximum.whole).loglik) /
                  (2 * h);
  }
  Eigen::Matrix4d sum = Eigen::Matrix4d::Zero();
  for (std::size_t i = 0; i < units.size(); ++i) {
    const auto g = here.value_of(units[i], maximum.point, maximum.whole).gradient;
    const Eigen::Vector4d score(g[0], g[1], g[2], in_lag[i]);
    sum += score * score.transpose();
  }
  const double k = static_cast<double>(units.size());
  return sum * (k / (k - 1));
}

Misfit misfit(std::span<const TimeCourse* const> sowings, const TimeDistribution& distribution,
              double fraction, bool of_emerged) {
  double chi_square = 0;
  double df = 0;
  for (const TimeCourse* const one : sowings) {
    const TimeCourse& course = *one;
    const double units = of_emerged ? emerged(course) : *course.sown;
    const double seen = share_up(distribution, last_look(course));
    const double scale = of_emerged ? (seen > 0 ? 1 / seen : 0) : fraction;
    double observed = 0;  // of the open cell
    double expected = 0;
    double closed_observed = 0;  // of the last closed cell, which takes what is left over
    double closed_expected = 0;
    int cells = 0;
    const auto close = [&] {
      if (cells > 0)
        chi_square += (closed_observed - closed_expected) * (closed_observed - closed_expected) /
                      closed_expected;
      closed_observed = observed;
      closed_expected = expected;
      observed = expected = 0;
      ++cells;
    };
    double total = 0;
    double share = 0;
    for (const Look& look : course.looks) {
      const double now = share_up(distribution, look.time);
      observed += look.total - total;
      expected += units * scale * (now - share);
      total = look.total;
      share = now;
      if (expected >= 1) close();
    }
    if (!of_emerged) {
      observed += units - total;
      expected += units * (1 - scale * share);
      if (expected >= 1) close();
    }
    if (cells == 0) continue;
    closed_observed += observed;
    closed_expected += expected;
    chi_square +=
        (closed_observed - closed_expected) * (closed_observed - closed_expected) / closed_expected;
    df += cells - 1;
  }
  return {chi_square, df};
}

std::optional<double> dispersion(const Misfit& misfit, int parameters) {
  const double df = misfit.df - parameters;
  if (!(df > 0)) return std::nullopt;
  return std::max(1.0, misfit.chi_squared / df);
}

std::optional<double> dispersion(std::span<const TimeCourse* const> sowings,
                                 const TimeDistribution& distribution, double fraction,
                                 int parameters, bool of_emerged) {
  return dispersion(misfit(sowings, distribution, fraction, of_emerged), parameters);
}

}  // namespace plumule::stats
