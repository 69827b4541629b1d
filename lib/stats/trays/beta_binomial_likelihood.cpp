// See the header.
#include "stats/trays/beta_binomial_likelihood.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "stats/numeric/affine_log_sum.hpp"

namespace plumule::stats {

void BetaBinomialGroup::add(const Tally& tray) {
  if (tray.n() == 0) return;
  if (!tray.whole()) throw std::domain_error("the beta-binomial needs whole numbers of seeds");
  ++up_[tray.x()];
  ++down_[tray.failures()];
  ++sown_[tray.n()];
  x_ += tray.x();
  n_ += tray.n();
  trays_ += 1;
  largest_ = std::max(largest_, tray.n());
  all_or_nothing_ = all_or_nothing_ && (tray.x() == 0 || tray.failures() == 0);
}

BetaBinomialDerivatives BetaBinomialGroup::at(double p, double theta) const {
  BetaBinomialDerivatives d;
  // `turn`: the sign of the first argument's derivative by p; `weight`: of the whole sum.
  const auto gather = [&](const Counts& counts, double first, double turn, double weight) {
    for (const auto& [count, trays] : counts) {
      if (count == 0) continue;
      const AffineLogSum s = affine_log_sum(first, theta, count);
      const double w = weight * trays;
      d.value += w * s.value;
      d.p += w * turn * s.a;
      d.theta += w * s.t;
      d.pp += w * turn * turn * s.aa;
      d.p_theta += w * turn * s.at;
      d.theta_theta += w * s.tt;
    }
  };
  gather(up_, p, 1, 1);
  gather(down_, 1 - p, -1, 1);
  gather(sown_, 1, 0, -1);
  return d;
}

double BetaBinomialGroup::best_p(double theta, double start) const {
  double low = 0, high = 1, p = start;
  for (int i = 0; i < 200; ++i) {
    const BetaBinomialDerivatives d = at(p, theta);
    (d.p > 0 ? low : high) = p;
    const double step = d.p / d.pp;
    if (std::fabs(step) <= 4e-16 * p) return p;
    double next = p - step;
    if (!(next > low && next < high)) next = (low + high) / 2;
    p = next;
  }
  return p;
}

}  // namespace plumule::stats
