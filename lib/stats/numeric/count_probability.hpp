// Probabilities of single counts, binomial and hypergeometric, that keep their digits from one seed
// to thousands of millions (no differences of large log factorials). Boost's hypergeometric factors
// numbers into primes, which it knows up to 104,729 seeds, and is slow beyond.
#pragma once

namespace plumule::stats {

// C. Loader 2000, "Fast and accurate computation of binomial probabilities": Stirling's error and
// the deviance part apart. Whole numbers are expected; outside the support the answer is 0.
// P(X = x), X ~ Binomial(n, p).
double binomial_probability(double x, double n, double p);

// P(X = x) marked among `drawn` taken without replacement from `total`, `marked` of them marked.
double hypergeometric_probability(double x, double total, double marked, double drawn);

}  // namespace plumule::stats
