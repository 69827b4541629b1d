// The beta-binomial log-likelihood of one group of trays and its derivatives, in p and
// theta = rho / (1 - rho): products of (p + j theta), (q + j theta) and (1 + j theta), smooth
// through the binomial at theta = 0.
#pragma once

#include <map>

#include "stats/proportions/tally.hpp"

namespace plumule::stats {

struct BetaBinomialDerivatives {
  double value = 0;  // without binomial coefficients
  double p = 0, theta = 0, pp = 0, p_theta = 0, theta_theta = 0;
};

class BetaBinomialGroup {
 public:
  // Trays without seed are passed over; counts that are not whole throw std::domain_error.
  void add(const Tally& tray);

  double pooled() const { return x_ / n_; }
  bool edge() const { return x_ == 0 || x_ == n_; }  // nothing or everything came up, or no seed
  bool all_or_nothing() const { return all_or_nothing_; }  // tray by tray
  bool shows_rho() const { return !edge() && trays_ >= 2 && largest_ >= 2; }

  // 0 < p < 1, theta >= 0.
  BetaBinomialDerivatives at(double p, double theta) const;

  // The p of greatest likelihood for this theta, by safeguarded Newton from `start` (0 < start <
  // 1): it is concave in p. Not for an edge group.
  double best_p(double theta, double start) const;

 private:
  using Counts = std::map<double, double>;  // how many trays have this count

  Counts up_, down_, sown_;
  double x_ = 0, n_ = 0, trays_ = 0, largest_ = 0;
  bool all_or_nothing_ = true;
};

}  // namespace plumule::stats
