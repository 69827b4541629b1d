// The model of the stand at one rho after another: the fit, and how likely that rho is by either
// weighing (stand/model.hpp has the formulae).
#pragma once

#include <vector>

#include "stats/stand/fit.hpp"
#include "stats/stand/layout.hpp"
#include "stats/stand/likelihood.hpp"
#include "stats/trays/rho_prior.hpp"

namespace plumule::stats {

// One value of rho.
struct StandNode {
  double rho = 0, x = 0;              // x = log(1 + n~ rho)
  double by_trial = 0, at_large = 0;  // its share in either weighing; in StandWalk their logarithms
  std::vector<double> mean;           // of each treatment, without any penalty
  std::vector<double> angle;          // arcsin sqrt of it, half a seed up and half not added
  std::vector<double> covariance;     // of the angles, treatments by treatments
};

// The prior of rho where a trial's own trays weigh it: (1 - rho) (rho + c / n~)^-power, c =
// min(1, least_df / df) (stand/model.hpp has why). Planning must go by the same.
struct PriorByTrial {
  static constexpr double power = 0.8, least_df = 1.5;
};

// Keeps references to layout and prior, which must outlive it.
class StandWalk {
 public:
  StandWalk(const StandLayout& layout, const RhoPrior& prior);

  // 0 <= rho < 1. by_trial and at_large: logarithms of densities in x, up to a constant.
  StandNode at(double rho);

  // Pearson's chi-squared of a treatment where the walk was last, and its units less their
  // leverage.
  double pearson(std::size_t treatment) const;
  double residual_df(std::size_t treatment) const;

 private:
  void weigh_cells(double rho);
  void average_variances();
  double pearson_of_cell(std::size_t cell) const;
  double misfit() const;
  void find_angles(StandNode& node);

  const StandLayout& layout_;
  const RhoPrior& prior_;
  StandFit fit_, plain_;
  std::vector<double> weight_, up_;                // of each cell
  std::vector<double> deflation_, log_deflation_;  // f, of each size
  std::vector<double> variance_;  // p (1 - p) of each treatment, averaged by weight
  StandLikelihood likelihood_;
  std::vector<double> slope_;
  bool plain_known_ = false;
};

}  // namespace plumule::stats
