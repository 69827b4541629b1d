// The regularised incomplete gamma function with its first two derivatives in the shape, as the
// gamma time distribution's likelihood needs them. Boost differentiates it in x, not in the shape.
#pragma once

namespace plumule::stats {

// What depends on the shape k > 0 alone.
struct GammaShape {
  double k = 1;
  double log_gamma = 0;  // log Gamma(k)
  double digamma = 0;    // its first derivative
  double trigamma = 0;   // its second
};
GammaShape gamma_shape(double k);

// P(k, x) and Q = 1 - P, each to its own relative accuracy, and dP/dk, d2P/dk2 (Q's are minus
// these), at x = exp(log_x) > 0. By the series for P below x = k + 1 and the continued fraction for
// Q above it, each differentiated term by term (the series as in Moore 1982, Appl. Stat. 31:330).
struct GammaTerms {
  double lower = 0;
  double upper = 1;
  double slope = 0;      // dP/dk
  double curvature = 0;  // d2P/dk2
};
GammaTerms gamma_terms(const GammaShape& shape, double log_x);

}  // namespace plumule::stats
