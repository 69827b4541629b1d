// Fisher's exact test of two proportions and its mid-p version: seed level, both margins fixed.
#pragma once

#include "stats/proportions/two_proportions.hpp"

namespace plumule::stats {

// p1 differs from p2, is less than it, or greater.
enum class Alternative { two_sided, less, greater };

// Fisher's p. Two-sided: the probability of all tables with these margins that are no likelier
// than the one seen (ties within a relative 1e-7 count). The counts must be whole: a fraction
// throws std::domain_error. A group of 0 gives 1. To n = 1e9 a group.
double fisher(const TwoByTwo& table, Alternative alternative = Alternative::two_sided);

// The same with the tables just as likely as the one seen counted by half (Lancaster 1961, JASA
// 56:223-234; one-sided: half the table seen). Two-sided, a mirror table of equal probability is
// halved too, as the definition P(T > t) + P(T = t)/2 has it.
double fisher_mid_p(const TwoByTwo& table, Alternative alternative = Alternative::two_sided);

}  // namespace plumule::stats
