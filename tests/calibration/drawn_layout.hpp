// Trials of any layout drawn from a supposed truth, and how the model of the stand, and the rules
// it takes the place of, judge them.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "report.hpp"
#include "stats/numeric/random.hpp"
#include "stats/stand/layout.hpp"

namespace plumule::calibration {

// A unit before it is sown.
struct Spot {
  int treatment = 0, stratum = 0, seeds = 0;
};

// Units of either treatment in every stratum: rows of {first, second}, all of that many seeds.
struct Shares {
  int first = 0, second = 0;
};
std::vector<Spot> spots_of(const std::vector<Shares>& strata, int seeds);
// One stratum, every treatment with a unit of each of these sizes.
std::vector<Spot> spots_of_sizes(int treatments, const std::vector<int>& sizes);

double logit_of(double share);
double share_of(double logit);

// The same shift of the logit in every stratum; treatment 0 has none. rho < 0: drawn from
// Beta(1, 24) for each trial.
struct Supposed {
  std::vector<double> stands;  // of treatment 0, by stratum
  std::vector<double> shifts;  // of each treatment, shifts[0] = 0
  double rho = 0;
};

struct SupposedTrial {
  std::vector<Spot> spots;
  Supposed truth;
  int treatments() const { return static_cast<int>(truth.shifts.size()); }
};
std::vector<stats::PlacedUnit> sow(stats::Random& random, const SupposedTrial& trial);

// Shares of trials, treatments held against treatment 0.
struct Judged {
  double claims = 0;        // any more or fewer
  double false_claims = 0;  // any, of a treatment that is shifted by nothing or the other way
  double covered = 0;       // of the differences' ranges, those that hold the true one
  double neither = 0;       // any
  double warned = 0;        // a treatment spreads more than its opposite and has fewer units
  double ranges = 0;        // of the treatments' own, those that hold the true mean
  int trials = 0;

  double error(double share) const;  // its standard error
};

// Draws trials, each made anew by `make`, until the errors of false_claims, covered and neither are
// at most `error` (at most `most` trials, and at least 1,000).
Judged judge(const std::function<SupposedTrial(stats::Random&)>& make, double error, int most,
             std::uint64_t seed, double worth = 0.1);
inline Judged judge(const SupposedTrial& trial, double error, int most, std::uint64_t seed,
                    double worth = 0.1) {
  return judge([&](stats::Random&) { return trial; }, error, most, seed, worth);
}

// The rules before it, of two treatments: by the differences within blocks where these leave 5
// degrees of freedom, else by the pooled posterior and the pooled t; their interval is the pooled
// posterior's. Coverage and neither from the first thousand trials.
struct JudgedBefore {
  double claims = 0, covered = 0, neither = 0;
};
JudgedBefore judge_before(const SupposedTrial& trial, int trials, std::uint64_t seed,
                          double worth = 0.1);

}  // namespace plumule::calibration
