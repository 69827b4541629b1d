// The verdict on the stand of a trial that is only supposed: near enough the verdict's own rule,
// and some hundred times as fast, so that hundreds of trials can be drawn while a grower waits.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "stats/random.hpp"
#include "stats/rho_prior.hpp"
#include "stats/stand_verdict.hpp"

namespace plumule::stats {

// Trials of sowings of `seeds` each of two treatments, drawn at p1, p2 and rho and judged
// as stand_verdict judges one closed as planned with two units or more each. The t is exact. The
// posterior is not integrated but expanded about the p drawn from: for each of some nine rho the
// log-likelihood of an angle arcsin sqrt p is taken as a parabola with the slope and curvature seen
// at the truth, the angles as normal, rho by its marginal likelihood (Laplace). Against the exact
// rule on drawn trials (0.5 to 0.99, rho 0.005 to 0.08, 3 to 24 trays of 10 to 200): another
// verdict in 1.8 of 100; where hardly a seed fails in a treatment (0.99 of 60 seeds) it decides
// more often than the rule, by up to a fifth of the trials. For planning only, never for a verdict.
class PlannedVerdict {
 public:
  // 0 <= p1, p2 <= 1, 0 <= rho < 1, 1 <= seeds <= 1000, 0 < d <= 1; else std::domain_error.
  PlannedVerdict(double p1, double p2, double rho, std::int64_t seeds, const RhoPrior& prior,
                 double d);

  // One trial drawn and judged, never `open`; trays >= 2, else std::domain_error.
  StandCode draw(Random& random, int trays) const;
  // The same of a trial at hand: how many of `seeds` are up in each sowing; as many of both.
  StandCode judge(std::span<const int> first, std::span<const int> second) const;

 private:
  // Of one treatment: chances of 0 .. seeds up, added up; then for every number up and every rho
  // the log-likelihood at the truth, its slope and its curvature in the angle.
  struct Arm {
    double angle = 0;
    std::vector<double> cumulative, terms, information;
  };
  Arm arm(double p, double rho) const;
  int drawn(const Arm& arm, Random& random) const;
  // Posterior chances of more, and of a difference under d either way.
  struct Chances {
    double better = 0.5, within = 0;
  };
  Chances chances(std::span<const int> first, std::span<const int> second) const;

  std::int64_t seeds_;
  double d_;
  std::vector<double> theta_, log_weight_;
  Arm first_, second_;
};

}  // namespace plumule::stats
