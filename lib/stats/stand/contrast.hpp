// The difference of two treatments by the model of the stand: estimate, range and chances, all from
// one distribution, so that none can contradict another.
#pragma once

#include <optional>

#include "stats/inference/interval.hpp"
#include "stats/stand/model.hpp"

namespace plumule::stats {

// First is asked about, second is what it is held against; differences are m_first - m_second.
//
// Given rho the angles a are normal, and with them t = a_first - a_second and, independent of it,
// the angle c that both would share if t were 0. The difference D = sin^2 a_first - sin^2 a_second
// rises with t at every c, and is 0 just where t is 0. P(D > d) is integrated over t in closed form
// and over c by Gauss and Hermite's rule of three points, then over rho by each weighing. Angles
// beyond 0 and pi/2 carry the percentage on beyond 0 and 1 in mirror image, so that nothing piles
// up there. Chances are within 1e-5 of the whole integral, 4e-3 where few seeds lie near an end;
// P(D > 0) is exact.
struct StandContrast {
  int first = 0, second = 0;
  bool told_apart = false;   // some stratum holds both; else what follows means nothing
  bool gaps_filled = false;  // no stratum holds every treatment: the model fills the gaps
  // In strata that hold both: a unit elsewhere tells of rho and of its stratum, not of the two.
  int units_first = 0, units_second = 0;
  double df = 0;        // of the model: units less what is fitted
  double estimate = 0;  // of the plain means (StandModel::mean)
  // The lower of both weighings' lower ends to the higher of their upper ones; an end that would
  // leave the estimate out stands at it. By itself, however many treatments there are.
  Interval range;
  // Of the two weighings the more cautious: the chance nearer 1/2 (1/2 where they lie on either
  // side of it); of p_within the smaller.
  double p_better = 0.5;                 // P(D > 0)
  double p_worth = 0, p_worth_less = 0;  // P(D > d), P(D < -d)
  double p_within = 0;                   // P(|D| < d)
  // For a difference against none, of t: H1: t ~ N(0, 0.2^2), H0: t = 0. Given rho the density of
  // the t seen is that of N(0, sd^2 + 0.2^2) against N(0, sd^2); both averaged over rho, and of the
  // two weighings the smaller factor. May be infinite.
  double bayes_factor = 1;
  // The treatment whose units spread more than the other's (F of Pearson's chi-squares at 5 %) and
  // which has fewer of them: nothing protects a claim from that.
  std::optional<int> spreads_more;

  double tail() const;  // 2 min(p_better, 1 - p_better): of a claim
  // Two units each where both are; then df is 1 or more.
  bool can_claim() const { return units_first >= 2 && units_second >= 2; }
};

// 0 < d <= 1 is the smallest difference worth having. The range is clear of 0 just where tail() <
// 1 - level, unless the estimate has the other sign. Throws std::domain_error for treatments that
// are none, or without units, and for d or a level that cannot be.
StandContrast contrast(const StandModel& model, int first, int second, double d = 0.10,
                       double level = 0.95);

}  // namespace plumule::stats
