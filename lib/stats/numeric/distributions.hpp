// Plain functions on double over Boost.Math's distributions: the only door to Boost in the
// project. Edges are settled here (0 below a support, 1 above it, infinite quantiles at 0 and 1),
// so no call throws for an ordinary argument; a parameter that makes no distribution throws
// std::domain_error with a sentence of ours. Computed in double (no promotion to long double).
#pragma once

namespace plumule::stats {

// Standard normal: lower and upper tail, and the z with that lower tail.
double normal_lower(double z);
double normal_upper(double z);
double normal_quantile(double p);

// Beta(a, b), a > 0, b > 0, x in [0, 1].
double beta_lower(double x, double a, double b);
double beta_upper(double x, double a, double b);
double beta_quantile(double p, double a, double b);
double beta_quantile_upper(double q, double a, double b);

// Student's t on df > 0 (not only whole): the upper tail, and the t with that upper tail.
double student_t_upper(double t, double df);
double student_t_quantile_upper(double q, double df);

// Chi-squared on df > 0: the upper tail at x.
double chi_squared_upper(double x, double df);

// Gamma(shape) with scale 1, shape > 0: both tails at x, and the x with that lower tail.
double gamma_lower(double x, double shape);
double gamma_upper(double x, double shape);
double gamma_quantile(double p, double shape);

// First and second derivative of log Gamma(x), x > 0.
double digamma(double x);
double trigamma(double x);

}  // namespace plumule::stats
