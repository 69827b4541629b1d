// Two proportions held against each other: difference, ratio and odds ratio, each with a score
// interval and a hybrid one. The units are taken as independent (seed level).
#pragma once

#include "stats/inference/interval.hpp"
#include "stats/proportions/tally.hpp"

namespace plumule::stats {

// x1 of n1 in the first group, x2 of n2 in the second. Throws like Tally.
struct TwoByTwo {
  Tally first;
  Tally second;

  template <class A, class B, class C, class D>
  TwoByTwo(A x1, B n1, C x2, D n2) : first(x1, n1), second(x2, n2) {}
  TwoByTwo(Tally one, Tally two) : first(one), second(two) {}

  double total() const { return first.n() + second.n(); }
  TwoByTwo swapped() const { return {second, first}; }
};

// A comparison of two proportions: the estimate, then the hybrid and the score interval. Method
// names: newcombe (the hybrid) and miettinen-nurminen (the score).
struct TwoProportionEffect {
  double estimate;  // NaN where it is 0/0; infinity where a ratio has a 0 below
  Interval newcombe;
  Interval miettinen_nurminen;
};

// Every function: an empty group (n = 0) leaves the widest interval (-1 to 1; 0 to infinity) and a
// NaN estimate; a level outside (0, 1) throws std::domain_error; lower <= estimate <= upper;
// swapping the groups negates (difference) or inverts (ratios). Infinity as an upper end means
// that no upper bound can be given.

// p1 - p2.
// Hybrid: Newcombe 1998, Statistics in Medicine 17:873-890, method 10 (Wilson limits squared and
// added); with `correction` method 11. Score: Miettinen & Nurminen 1985, Statistics in Medicine
// 4:213-226, variance under the restricted maximum likelihood times N/(N - 1).
Interval newcombe_difference(const TwoByTwo& table, double level = 0.95, Side side = Side::both,
                             bool correction = false);
Interval miettinen_nurminen_difference(const TwoByTwo& table, double level = 0.95,
                                       Side side = Side::both);
TwoProportionEffect difference(const TwoByTwo& table, double level = 0.95, Side side = Side::both);

// p1 / p2.
// Hybrid: Wilson limits by the ratio form of the same recovery of variances (Donner & Zou 2012,
// Statistical Methods in Medical Research 21:347-359, eq. 9). Score: Miettinen & Nurminen 1985.
// x2 = 0: estimate and upper end infinite; x1 = 0: estimate and lower end 0; both 0: 0 to infinity.
Interval newcombe_ratio(const TwoByTwo& table, double level = 0.95, Side side = Side::both);
Interval miettinen_nurminen_ratio(const TwoByTwo& table, double level = 0.95,
                                  Side side = Side::both);
TwoProportionEffect ratio(const TwoByTwo& table, double level = 0.95, Side side = Side::both);

// Odds p1/(1 - p1) over odds p2/(1 - p2).
// Hybrid: the ratio form on the odds of the Wilson limits (Fagerland & Newcombe 2013, Statistics in
// Medicine 32:2823-2836); where a group came up whole, on the odds of not coming up, as they do. So
// counting what did not come up instead gives nearly, not exactly, the inverse. With an empty cell
// in both groups the finite end is the ratio of the two single limits, which is wide (our choice).
// Score: Miettinen & Nurminen 1985. Where both groups gave nothing, or both everything: 0 to
// infinity, estimate NaN.
Interval newcombe_odds_ratio(const TwoByTwo& table, double level = 0.95, Side side = Side::both);
Interval miettinen_nurminen_odds_ratio(const TwoByTwo& table, double level = 0.95,
                                       Side side = Side::both);
TwoProportionEffect odds_ratio(const TwoByTwo& table, double level = 0.95, Side side = Side::both);

}  // namespace plumule::stats
