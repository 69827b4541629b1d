// What each sowing adds to a fit: its score, for errors that know of sowings, and its distance from
// the fitted curve, for the dispersion between sowings.
#pragma once

#include <Eigen/Dense>
#include <optional>
#include <span>
#include <vector>

#include "stats/times/emergence_solver.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::stats {

// Sum over units of score times score, with factor k/(k - 1); over a, u, v and, where the maximum
// has one, the lag (numeric there). pooled: the spans of all; `units`: of each sowing, or of all
// those treated together, two at least.
Eigen::Matrix4d score_products(std::span<const Span> pooled,
                               std::span<const std::vector<Span>> units, TimeFamily family,
                               const EmergenceMaximum& maximum, double unit);

// Pearson's chi-square of the sowings' counts between their own looks (and of the rest) about the
// fitted curve, neighbouring intervals pooled until their expected count is 1; df: cells - sowings,
// before parameters are taken off. of_emerged: conditional on coming up by each sowing's last look.
struct Misfit {
  double chi_squared = 0;
  double df = 0;
};
Misfit misfit(std::span<const TimeCourse* const> sowings, const TimeDistribution& distribution,
              double fraction, bool of_emerged);

// The chi-square over its degrees of freedom (less parameters), at least 1; none without any.
std::optional<double> dispersion(const Misfit& misfit, int parameters);

// The same of one fitted curve.
std::optional<double> dispersion(std::span<const TimeCourse* const> sowings,
                                 const TimeDistribution& distribution, double fraction,
                                 int parameters, bool of_emerged);

}  // namespace plumule::stats
