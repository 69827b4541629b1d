// The only file that includes Boost's distributions; see the header.
#include "stats/numeric/distributions.hpp"

#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/gamma.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/special_functions/digamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace plumule::stats {
namespace {

namespace bm = boost::math;
using Policy = bm::policies::policy<bm::policies::promote_double<false>>;
constexpr double infinity = std::numeric_limits<double>::infinity();

using Normal = bm::normal_distribution<double, Policy>;
using Beta = bm::beta_distribution<double, Policy>;
using Gamma = bm::gamma_distribution<double, Policy>;
using StudentT = bm::students_t_distribution<double, Policy>;
using ChiSquared = bm::chi_squared_distribution<double, Policy>;

void check_probability(double p) {
  if (!(p >= 0 && p <= 1)) throw std::domain_error("a probability must lie in [0, 1]");
}

Beta beta(double a, double b) {
  if (!(a > 0 && b > 0 && a < infinity && b < infinity))
    throw std::domain_error("a beta distribution needs two finite shapes above 0");
  return Beta(a, b);
}

void check_df(double df) {
  if (!(df > 0 && df < infinity))
    throw std::domain_error("degrees of freedom must be finite and above 0");
}

// Named so because `gamma` is a function of <math.h>.
Gamma gamma_of(double shape) {
  if (!(shape > 0 && shape < infinity))
    throw std::domain_error("a gamma distribution needs a finite shape above 0");
  return Gamma(shape);
}

}  // namespace

double normal_lower(double z) { return bm::cdf(Normal(), z); }
double normal_upper(double z) { return bm::cdf(bm::complement(Normal(), z)); }

double normal_quantile(double p) {
  check_probability(p);
  if (p == 0) return -infinity;
  if (p == 1) return infinity;
  return bm::quantile(Normal(), p);
}

double beta_lower(double x, double a, double b) {
  const Beta d = beta(a, b);
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  return bm::cdf(d, x);
}

double beta_upper(double x, double a, double b) {
  const Beta d = beta(a, b);
  if (x <= 0) return 1;
  if (x >= 1) return 0;
  return bm::cdf(bm::complement(d, x));
}

double beta_quantile(double p, double a, double b) {
  const Beta d = beta(a, b);
  check_probability(p);
  return bm::quantile(d, p);
}

double beta_quantile_upper(double q, double a, double b) {
  const Beta d = beta(a, b);
  check_probability(q);
  return bm::quantile(bm::complement(d, q));
}

double student_t_upper(double t, double df) {
  check_df(df);
  if (std::isinf(t)) return t > 0 ? 0 : 1;
  return bm::cdf(bm::complement(StudentT(df), t));
}

double student_t_quantile_upper(double q, double df) {
  check_df(df);
  check_probability(q);
  if (q == 0) return infinity;
  if (q == 1) return -infinity;
  return bm::quantile(bm::complement(StudentT(df), q));
}

double chi_squared_upper(double x, double df) {
  check_df(df);
  if (x <= 0) return 1;
  if (x == infinity) return 0;
  return bm::cdf(bm::complement(ChiSquared(df), x));
}

double gamma_lower(double x, double shape) {
  const Gamma d = gamma_of(shape);
  if (x <= 0) return 0;
  if (x == infinity) return 1;
  return bm::cdf(d, x);
}

double gamma_upper(double x, double shape) {
  const Gamma d = gamma_of(shape);
  if (x <= 0) return 1;
  if (x == infinity) return 0;
  return bm::cdf(bm::complement(d, x));
}

double gamma_quantile(double p, double shape) {
  const Gamma d = gamma_of(shape);
  check_probability(p);
  if (p == 0) return 0;
  if (p == 1) return infinity;
  return bm::quantile(d, p);
}

double digamma(double x) {
  if (!(x > 0)) throw std::domain_error("the digamma function is used above 0 only");
  return bm::digamma(x, Policy());
}

double trigamma(double x) {
  if (!(x > 0)) throw std::domain_error("the trigamma function is used above 0 only");
  return bm::trigamma(x, Policy());
}

}  // namespace plumule::stats
