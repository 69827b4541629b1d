// Do replicate trays of one treatment agree as binomial samples would? Chi-squared heterogeneity.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "stats/tally.hpp"

namespace plumule::stats {

// Printed with every answer drawn by lot, so that it can be had again.
inline constexpr std::uint64_t default_seed = 20250301;
inline constexpr std::int64_t default_draws = 99999;

struct Heterogeneity {
  double chi_squared;    // sum of (x - n p)^2 / (n p (1 - p)), p pooled
  double df;             // trays counted less one
  double p_chi_squared;  // by the chi-squared law; rough where an expected count is under 5
  double p;              // the one to show: exact Monte Carlo where `drawn`, else p_chi_squared
  bool drawn;            // some expected count is under 5, and the counts are whole
  std::int64_t draws;    // 0 unless drawn
  std::uint64_t seed;
};

// Exact Monte Carlo: the trays' counts given their sizes and their total are multivariate
// hypergeometric; p = (1 + number at least as far out, ties within 1e-9 counted) / (1 + draws).
// The trays are sorted first, so their order is nothing. Empty trays are not counted. None with
// fewer than two trays, or where nothing or everything came up.
std::optional<Heterogeneity> heterogeneity(std::span<const Tally> trays,
                                           std::uint64_t seed = default_seed,
                                           std::int64_t draws = default_draws);

}  // namespace plumule::stats
