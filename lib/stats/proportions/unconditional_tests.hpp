// Barnard's and Boschloo's exact tests of two proportions: only the group sizes are fixed, and p is
// the largest over the unknown common proportion. Seed level.
#pragma once

#include "stats/proportions/fisher.hpp"

namespace plumule::stats {

enum class ExactStatus {
  ok,
  too_large  // over a million possible tables, or 2,000 units in a group: no p; Fisher's serves
};

struct ExactTest {
  ExactStatus status = ExactStatus::ok;
  double p = 1;          // NaN unless status is ok
  double nuisance = 0;   // a common proportion at which that p is reached
  double statistic = 0;  // Barnard: pooled z; Boschloo: Fisher's p of the table seen
};

// The largest (n1 + 1)(n2 + 1) and the largest group taken on: a third of a second at most.
inline constexpr double largest_exact_table = 1e6;
inline constexpr double largest_exact_group = 2000;

// Both: counts must be whole (a fraction throws std::domain_error); an empty group gives p = 1;
// p is right to 1e-10 (scan in the arcsine scale, each high local maximum refined).

// Barnard 1947, Biometrika 34:123-138, with the pooled z as statistic (Suissa & Shuster 1985);
// two-sided by |z|; ties within 1e-9 count as equal; a table with nothing or everything up has z 0.
ExactTest barnard(const TwoByTwo& table, Alternative alternative = Alternative::two_sided);

// Two-sided Boschloo has two published conventions.
enum class BoschlooTwoSided {
  fisher_ordering,  // tables ordered by the two-sided Fisher p: never larger than that p (default)
  twice_one_sided   // twice the smaller one-sided Boschloo p, at most 1
};

// Boschloo 1970, Statistica Neerlandica 24:1-9: Fisher's p as statistic. `convention` is for the
// two-sided test only.
ExactTest boschloo(const TwoByTwo& table, Alternative alternative = Alternative::two_sided,
                   BoschlooTwoSided convention = BoschlooTwoSided::fisher_ordering);

}  // namespace plumule::stats
