// Do replicate trays of one treatment agree as binomial samples would? Chi-squared heterogeneity.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "stats/proportions/tally.hpp"

namespace plumule::stats {

// Printed with every answer drawn by lot, so that it can be had again.
inline constexpr std::uint64_t default_seed = 20250301;
inline constexpr std::int64_t default_draws = 99999;

enum class HeterogeneityMethod {
  chi_squared,  // every expected count is 5 or more (or the counts are not whole)
  enumerated,   // all ways to place the total among the trays
  drawn         // Monte Carlo, where there are more than about 200,000 ways
};

struct Heterogeneity {
  double chi_squared;    // sum of (x - n p)^2 / (n p (1 - p)), p pooled
  double df;             // trays counted less one
  double p_chi_squared;  // by the chi-squared law; rough where an expected count is under 5
  double p;              // the one to show, by `method`
  HeterogeneityMethod method;
  bool drawn;          // method is drawn: the seed and the number of draws belong beside p
  std::int64_t draws;  // 0 unless drawn
  std::uint64_t seed;  // 0 unless drawn
};

// Exact p: the trays' counts given their sizes and their total are multivariate hypergeometric; p
// is the probability of a chi-squared at least as large, ties within 1e-9 counted; drawn, it is (1
// + number as large) / (1 + draws). The order of the trays is nothing. Empty trays are not counted.
// None with fewer than two trays, or where nothing or everything came up.
std::optional<Heterogeneity> heterogeneity(std::span<const Tally> trays,
                                           std::uint64_t seed = default_seed,
                                           std::int64_t draws = default_draws);

}  // namespace plumule::stats
