// The prior of rho learned from a grower's own replicated sowings: B of rho ~ Beta(1, B) by
// marginal likelihood, group after group, in memory that does not grow with them.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>

#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// A group is sowings of one kind that should agree (one lot, one treatment): with p ~ Beta(1/2,
// 1/2) and rho ~ Beta(1, B) its counts have the marginal likelihood
//   M(B) = integral over rho of Beta(rho; 1, B) integral over p of L(p, rho) Beta(p; 1/2, 1/2),
// L the beta-binomial (Skellam 1948). B is where the product of M over groups times the density of
// a guess is largest (parametric empirical Bayes: Efron & Morris 1973; Carlin & Louis 2000, chapter
// 3; from memory): log B ~ N(log guess, 1), so that a few groups that happen to agree move the
// guess little, and many outweigh it. The product is kept on a fixed grid of B from 2 to 2000 and
// its top interpolated by a parabola in log B; past an end of the grid that end is given.
class LearnedRho {
 public:
  // Were each group's rho known outright, B would still carry a standard error of B / sqrt(groups):
  // a third of it at ten groups, and no better than the published guess below.
  static constexpr std::int64_t fewest_groups = 10;
  static constexpr std::size_t grid = 41;
  static double b_at(std::size_t place);  // 2 to 2000, evenly in log B

  // A group of two sowings or more tells of rho; a smaller one is passed over. Throws
  // std::domain_error for a count that cannot be.
  void add(std::span<const TrayCount> group);

  std::int64_t groups() const { return groups_; }
  // None with fewer than fewest_groups. guess: what is published, from 2 to 2000, else
  // std::domain_error.
  std::optional<double> b(double guess) const;
  // Sum of log M over the groups, for each B of the grid, without the binomial coefficients.
  const std::array<double, grid>& log_likelihood() const { return sums_; }

 private:
  std::array<double, grid> sums_{};
  std::int64_t groups_ = 0;
};

}  // namespace plumule::stats
