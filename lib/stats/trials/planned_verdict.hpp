// The claim on the stand that a trial which is only supposed would bear: near enough the rule of
// claims.hpp, and some hundred times as fast, so that hundreds of trials can be drawn while a
// grower waits.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "stats/numeric/random.hpp"
#include "stats/trays/rho_prior.hpp"
#include "stats/trials/claims.hpp"

namespace plumule::stats {

// Trials of sowings of `seeds` each of two treatments, drawn at p1, p2 and rho and judged
// as stand_claim judges one closed as planned with two units or more each. The t is exact. The
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

  // One trial drawn and judged; trays >= 2, else std::domain_error.
  StandClaim draw(Random& random, int trays) const;
  // The same of a trial at hand: how many of `seeds` are up in each sowing; as many of both.
  StandClaim judge(std::span<const int> first, std::span<const int> second) const;

 private:
  friend class PlannedTrials;
  // Of one treatment: chances of 0 .. seeds up, added up, with where to begin looking in them; then
  // for every number up the log-likelihood at the truth for every rho, then its slopes and then its
  // curvatures in the angle, each padded() numbers.
  struct Arm {
    double angle = 0;
    std::vector<double> cumulative, terms, information;
    std::vector<int> guide;
  };
  Arm arm(double p, double rho) const;
  std::size_t padded() const { return (theta_.size() + 3) / 4 * 4; }

  std::int64_t seeds_;
  double d_;
  std::vector<double> theta_, log_weight_;
  Arm first_, second_;
};

// Trials of one number of sowings each, drawn one after another: what depends on that number alone
// is kept, and nothing is allocated from one trial to the next. The plan must outlive it.
class PlannedTrials {
 public:
  PlannedTrials(const PlannedVerdict& plan, int trays);  // trays >= 2, else std::domain_error

  StandClaim draw(Random& random);
  StandClaim judge(std::span<const int> first, std::span<const int> second);  // `trays` of both

 private:
  // A node of rho: its share of the posterior, the two angles' difference and sum, and the sd of
  // each of these.
  struct Node {
    double weight = 0, apart = 0, together = 0, sd = 1;
  };
  // Of one treatment at a node: where its parabola has its top (an angle that may lie outside the
  // quarter turn), how curved it is, and how high.
  struct Peak {
    double angle = 0, curvature = 1, height = 0;
  };
  void expand(std::span<const int> first, std::span<const int> second);
  double outside(const Node& node) const;  // chance that the difference is d or more
  bool sure_of_a_sign(bool& more) const;
  bool surely_within() const;
  template <class Visit>
  void each_node(Visit&& visit) const;  // from the likeliest up, then down, until visit says false

  const PlannedVerdict& plan_;
  double trays_, t_needed_;
  std::vector<int> first_, second_;
  std::vector<double> sums_, other_sums_;
  std::vector<Node> nodes_;
  std::vector<std::array<Peak, 2>> peaks_;
  std::size_t likeliest_ = 0;
  double mass_ = 0;
};

}  // namespace plumule::stats
