// Tests of one lot that cannot both be right: which of them agree, which is the odd one, and what
// is known while that is open.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "analysis/summary/stand.hpp"
#include "stats/ageing/ageing_rate.hpp"
#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::analysis {

struct LotTests;

// Tests that agree with each other, and not with those of another side.
struct ClashSide {
  std::vector<std::string> tests;         // their names, by day
  std::vector<stats::TrayCount> counted;  // up of those sown
  std::vector<stats::TrayCount> alive;    // the same, with those assessed hard
  Stand stand;                            // of this side alone
  std::optional<double> p_meets;          // by this side alone; none without a standard
};

struct LotClash {
  ClashSide older, newer;
  std::vector<ClashSide> later;  // what came since and has not settled it
  double p = 0;                  // mid-p of the newer under what the older say, the smaller tail

  const ClashSide& lower() const;  // the side of which the least share came up
};

// Of a lot with its tests by day (sowings of one day are one test; those still running are none):
// - The newest joins the older ones unless it clashes: the mid-p of its total under what they say,
//   aged to its day (fresh_sowing.hpp; of soil, as if nothing had aged), is below 0.025. Where seed
//   was assessed hard, those alive must clash too: a hard coat may have softened since.
// - What clashes is two sides. Those that come after are taken together: where they agree with one
//   side and with no other they join it, and that settles it; with none, they are a side of their
//   own; with several, they settle nothing yet.
// - Settled: the tests of every other side are left out, and their use is `clashes`. Open: none is
//   counted, and the sides are given.
// A second test alone never tells which of two is right: one may be spoilt, or be of other seed.
std::optional<LotClash> set_clashing_apart(LotTests& tests, const stats::AgeingRate& rate,
                                           const stats::RhoPrior& prior, double level);

// The chance that one more test of n seeds, in one sowing, agrees with the older or the newer and
// not with both, each being as likely right. 1 <= n <= 1000.
double chance_to_settle(const LotClash& clash, const stats::RhoPrior& prior, std::int64_t n);

}  // namespace plumule::analysis
