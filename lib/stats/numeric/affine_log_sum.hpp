// Sums over j = 0 ... m - 1 of log(a + j t) and its derivatives: what the beta-binomial likelihood
// is made of. Exact at t = 0 (the binomial), and quick for thousands of millions of seeds. As
// differences of Boost's lgamma it would lose all digits near t = 0.
#pragma once

namespace plumule::stats {

struct AffineLogSum {
  double value = 0;               // sum of log(a + j t)
  double a = 0, t = 0;            // first derivatives
  double aa = 0, at = 0, tt = 0;  // second derivatives
};

// a > 0, t >= 0, m whole. The first 128 terms one by one; the rest as integrals over doubling
// panels (ten-point Gauss-Legendre) with the midpoint rule's first correction: 1e-11 relative.
AffineLogSum affine_log_sum(double a, double t, double m);

}  // namespace plumule::stats
