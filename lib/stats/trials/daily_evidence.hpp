// Evidence that two treatments come up differently, seed by seed and day by day: the grouped safe
// log-rank, raw and deflated for seeds that share a tray. Shown beside the sequential test.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/trials/followed_sowing.hpp"

namespace plumule::stats {

struct EvidenceLook {
  int day = 0;
  double log_raw = 0;
  double log_deflated = 0;
};

struct DailyEvidence {
  bool given = false;      // false: no look yet, or only one treatment
  double raw = 1;          // P(ever >= 20 | no difference) <= 1/20 for independent seeds only
  double deflated = 1;     // rests on a tray-to-tray correlation of rho0
  double highest_raw = 1;  // the largest so far; at least 1
  double highest_deflated = 1;
  double phi = 1;  // 1 + (mean seeds a sowing - 1) rho0
  std::vector<EvidenceLook> looks;
};

// At each look, given how many are still to come up in each treatment and how many came up in all,
// the split is hypergeometric under no difference and Fisher's noncentral hypergeometric at odds
// ratio w. For each w the product over looks of the ratios; then the average over w of the products
// (log w = 0.7 z, z = -3(0.2)3, weights proportional to exp(-z^2 / 2)). Deflated: the average of
// product^(1 / phi). Seeds of a sowing that has ended are no longer to come. Looks as trial_looks.
// (Grouped safe log-rank: Grunwald, de Heide & Koolen; ter Schure et al.) Throws std::domain_error
// for what check_followed refuses or rho0 outside [0, 1].
DailyEvidence daily_evidence(std::span<const FollowedSowing> sowings, int until,
                             double rho0 = 0.05);

// log of P(x | w) / P(x | 1): x of d came from the first group of m1, the rest from m2.
// Throws std::domain_error unless max(0, d - m2) <= x <= min(d, m1).
double log_split_ratio(long long x, long long d, long long m1, long long m2, double log_w);

}  // namespace plumule::stats
