// How many seeds of a lot are alive on any day, by tests that each have an age: one posterior of
// the lot's proportion, of how fast it ages and of how alike seeds of one sowing are.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "stats/ageing/ageing_rate.hpp"
#include "stats/ageing/field_factor.hpp"
#include "stats/inference/interval.hpp"
#include "stats/trays/lot_belief.hpp"
#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// One sowing that was given its time. Days count from any day, the same for all that is asked of
// one lot; fractions and days below 0 are as good.
struct AgedTest {
  double day = 0;
  Ground ground = Ground::towel;
  TrayCount count;
};

// probit p(D) = probit p(test) - (D - test) / sigma, one sigma for all tests of the lot (Ellis &
// Roberts 1980), log sigma as its AgeingRate. On the day of the newest test p ~ Beta(1/2, 1/2);
// without a test the probit at harvest is N(1.4, 0.5^2) (judgement). rho by its prior; a towel is
// one beta draw, and a sowing in soil one of f p, f as field_factor.hpp and the same for those of
// one day, which meet the same ground. Method: cells of equal width in the arcsine scale of p on
// the day of the newest test (where the prior is flat), times nodes of log sigma, times nodes of
// rho; chances are within 1e-3.
class AgedLot {
 public:
  // Throw std::domain_error for counts, a rate or a prior that cannot be, for no test, and for
  // tests hundreds of probits apart, of which the older had dead seed.
  static AgedLot tested(std::span<const AgedTest> tests, const AgeingRate& rate,
                        const RhoPrior& prior);
  static AgedLot untested(double harvest_day, const AgeingRate& rate, const RhoPrior& prior);

  double reference_day() const { return reference_day_; }  // of the newest test, or harvest

  // P(p >= share on that day): 1 for a share of 0 and less, 0 above 1.
  double chance_at_least(double share, double day) const;
  // The p below which the share q of the posterior lies on that day, 0 <= q <= 1; the mean of p;
  // the equal-tailed interval (method tray-aware), 0 < level < 1. Where nothing ever came up its
  // lower end is 0, where all did its upper end 1; the other end keeps (1 - level) / 2.
  // An end nearer than 1 in 2000 to 0 or 1 is 0 or 1: no count can tell it from that.
  double quantile(double q, double day) const;
  double mean(double day) const;
  Interval interval(double level, double day) const;

  // The day by which p has fallen under `share` (0 < share < 1) with chance q: so the 5, 50 and
  // 95 % points of that day. It may lie before the newest test. None where 200 years are too few.
  std::optional<double> falls_below(double share, double q) const;

  // Posterior median of sigma, in days.
  double days_to_lose_a_probit() const;

  // p and rho on that day as weighted points, for what is foretold or decided: at most 120 values
  // of p, in rising order, each with its nodes of rho.
  std::vector<LotPoint> points(double day) const;

 private:
  struct Sigma {
    double days = 0, weight = 0;
  };
  AgedLot(double reference_day, const AgeingRate& rate, std::size_t cells);
  void learn(std::span<const AgedTest> tests, const RhoPrior& prior);
  void sum_up();
  double& at(std::size_t r, std::size_t k, std::size_t c) {
    return joint_[(r * sigmas_.size() + k) * middles_.size() + c];
  }

  double reference_day_ = 0;
  bool all_zero_ = false, all_full_ = false;
  std::vector<Sigma> sigmas_;    // weights: their prior, later the posterior
  std::vector<double> rhos_;     // their nodes
  std::vector<double> middles_;  // of the cells, as probits of p
  std::vector<double> joint_;    // posterior mass by rho, sigma and cell
  // By sigma and edge of a cell (one more than cells): the mass below it.
  std::vector<double> below_;
};

}  // namespace plumule::stats
