// Two proportions compared within strata (blocks, seasons): Cochran-Mantel-Haenszel test, common
// odds ratio, and whether the odds ratios agree. Seed level: trays within a stratum are pooled.
#pragma once

#include <optional>
#include <span>

#include "stats/proportions/two_proportions.hpp"

namespace plumule::stats {

struct ChiSquaredTest {
  double chi_squared;
  double df;
  double p;
};

// Cochran 1954, Mantel & Haenszel 1959; hypergeometric variance. `correction` takes 1/2 from the
// absolute sum of deviations (not below 0). None where no stratum tells anything (every one
// has an empty group, or nothing or everything up in both).
std::optional<ChiSquaredTest> cochran_mantel_haenszel(std::span<const TwoByTwo> strata,
                                                      bool correction = false);

struct CommonOddsRatio {
  double
      estimate;  // 0 or infinity where every informative stratum points one way; NaN if none does
  std::optional<double> log_se;      // none at 0, infinity or NaN
  std::optional<Interval> interval;  // none likewise; method mantel-haenszel
};

// Mantel-Haenszel odds ratio, first group over second; standard error of its logarithm by Robins,
// Breslow & Greenland 1986 (Biometrics 42:311-323); interval by the normal law on that scale.
CommonOddsRatio mantel_haenszel_odds_ratio(std::span<const TwoByTwo> strata, double level = 0.95);

struct OddsRatioAgreement {
  ChiSquaredTest breslow_day;  // Breslow & Day 1980, at the Mantel-Haenszel estimate
  ChiSquaredTest tarone;       // with Tarone's 1985 correction, which makes it valid
  int strata;                  // strata counted; df is one less
};

// Do the strata share one odds ratio? Strata without information are not counted. None with fewer
// than two that count, or where the common odds ratio is 0, infinite or undefined.
std::optional<OddsRatioAgreement> breslow_day(std::span<const TwoByTwo> strata);

}  // namespace plumule::stats
