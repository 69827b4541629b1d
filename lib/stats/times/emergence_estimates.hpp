// From the maximum of a likelihood in working parameters to the figures of an EmergenceModel in
// natural units, with their errors and intervals.
#pragma once

#include <Eigen/Dense>
#include <optional>

#include "stats/times/emergence_model.hpp"
#include "stats/times/emergence_solver.hpp"

namespace plumule::stats {

// Covariances over a, u, v and lag (rows of what was not estimated are 0).
struct ModelErrors {
  std::optional<Eigen::Matrix4d> hessian;    // none: not identified
  std::optional<Eigen::Matrix4d> clustered;  // none: one sowing
  int df = 0;                                // of the clustered one
  double level = 0.95;
};

// Value and gradient over a, u, v, lag of the logarithm of the day by which the share p of the
// germinable is up.
struct LogTime {
  double value = 0;
  Eigen::Vector4d gradient = Eigen::Vector4d::Zero();
};
LogTime log_time_of_share(TimeFamily family, const EmergenceMaximum& maximum, double unit,
                          double p);

// Sowings that agree to a seed: an error between sowings under a hundredth of that of independent
// seeds is no error to build an interval on.
inline bool agree_too_well(double se_clustered, double se) { return se_clustered < 0.01 * se; }

// Fills distribution, fraction to lag, fraction_at_one and share_seen; last_look in days.
void describe(EmergenceModel& model, TimeFamily family, const EmergenceMaximum& maximum,
              double unit, double last_look, const ModelErrors& errors);

}  // namespace plumule::stats
