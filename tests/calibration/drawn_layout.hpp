// Trials of any layout drawn from a supposed truth, and how the model of the stand judges them.
#pragma once

#include <cstdint>
#include <functional>
#include <initializer_list>
#include <string>
#include <vector>

#include "report.hpp"
#include "stats/numeric/random.hpp"
#include "stats/stand/claims.hpp"
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
std::vector<Spot> pairs_of(int blocks, int seeds);
// One stratum, every treatment with a unit of each of these sizes.
std::vector<Spot> spots_of_sizes(int treatments, const std::vector<int>& sizes);

double logit_of(double share);
double share_of(double logit);
double shift(double from, double to);  // of the logit
// So many stands, evenly down the logit.
std::vector<double> gradient(double from, double to, int steps);

// The same shift of the logit in every stratum; treatment 0 has none. rho < 0: drawn from
// Beta(1, 24) for each trial.
struct Supposed {
  std::vector<double> stands;  // of treatment 0, by stratum
  std::vector<double> shifts;  // of each treatment, shifts[0] = 0
  double rho = 0;
  // Of each treatment the share lost of what came up, and its correlation within a unit: then what
  // stands is judged. Empty: nothing is lost.
  std::vector<double> lost = {};
  double lost_rho = 0;
};

struct SupposedTrial {
  std::vector<Spot> spots;
  Supposed truth;
  int treatments() const { return static_cast<int>(truth.shifts.size()); }
};
SupposedTrial two(std::vector<Spot> spots, double from, double to, double rho);  // one stratum
// Nothing differs between the treatments.
SupposedTrial alike(std::vector<Spot> spots, std::vector<double> stands, double rho,
                    int treatments = 2);

std::vector<stats::PlacedUnit> sow(stats::Random& random, const SupposedTrial& trial);

bool is_claim(stats::StandClaim claim);  // more or fewer

// Of trials, treatments held against treatment 0.
struct Judged {
  Rate claims;        // any more or fewer
  Rate false_claims;  // any, of a treatment that differs by nothing or the other way
  Rate by_itself;     // the same, were each difference the only one
  Rate covered;       // of the differences' ranges, those that hold the true one
  Rate ranges;        // of the treatments' own, those that hold the true mean
  Rate neither;       // any
  Rate warned;        // a treatment spreads more than its opposite and has fewer units
  Rate not_told;      // all differences: strata and treatments cannot be told apart
};

// Trials, each made anew by `make`, drawn and judged as `drawn` does (report.hpp).
using Known = std::initializer_list<Rate Judged::*>;
Judged judge(const Effort& effort, const std::function<SupposedTrial(stats::Random&)>& make,
             std::uint64_t seed, Known known, int shortly = 1000, double error = rate_error);
inline Judged judge(const Effort& effort, const SupposedTrial& trial, std::uint64_t seed,
                    Known known, int shortly = 1000, double error = rate_error) {
  return judge(
      effort, [&](stats::Random&) { return trial; }, seed, known, shortly, error);
}

// "0.05", or that it is drawn from its prior.
std::string rho_name(double rho);

}  // namespace plumule::calibration
