// Binomial ratios of blocks, the pair of percentages learnt from the blocks before.
#include "stats/paired_block_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace plumule::stats {
namespace {

void check(const PairedBlock& block) {
  const bool a = block.sown_a >= 1 && block.up_a >= 0 && block.up_a <= block.sown_a;
  const bool b = block.sown_b >= 1 && block.up_b >= 0 && block.up_b <= block.sown_b;
  if (!a || !b) throw std::domain_error("a block needs seed of both, and no more up than sown");
}

double log_binomial(double up, double sown, double theta) {
  double sum = 0;
  if (up > 0) sum += up * std::log(theta);
  if (up < sown) sum += (sown - up) * std::log1p(-theta);
  return sum;
}

}  // namespace

double log_block_evidence(const PairedBlock& block, double theta_a, double theta_b) {
  check(block);
  if (!(theta_a > 0 && theta_a < 1 && theta_b > 0 && theta_b < 1))
    throw std::domain_error("a block's two probabilities must lie in (0, 1)");
  const double ya = static_cast<double>(block.up_a), na = static_cast<double>(block.sown_a);
  const double yb = static_cast<double>(block.up_b), nb = static_cast<double>(block.sown_b);
  const double theta0 = (na * theta_a + nb * theta_b) / (na + nb);
  return log_binomial(ya, na, theta_a) + log_binomial(yb, nb, theta_b) -
         log_binomial(ya + yb, na + nb, theta0);
}

PairedEvidence paired_block_evidence(std::span<const PairedBlock> blocks, double gamma_a,
                                     double gamma_b) {
  if (!(gamma_a > 0 && gamma_b > 0)) throw std::domain_error("both priors must be above 0");
  PairedEvidence made;
  double up_a = 0, seen_a = 0, up_b = 0, seen_b = 0, log_e = 0, highest = 0;
  for (const auto& block : blocks) {
    check(block);
    log_e += log_block_evidence(block, (up_a + gamma_a) / (seen_a + 2 * gamma_a),
                                (up_b + gamma_b) / (seen_b + 2 * gamma_b));
    made.log_e.push_back(log_e);
    highest = std::max(highest, log_e);
    up_a += static_cast<double>(block.up_a);
    seen_a += static_cast<double>(block.sown_a);
    up_b += static_cast<double>(block.up_b);
    seen_b += static_cast<double>(block.sown_b);
  }
  made.anytime_p = std::exp(-highest);
  return made;
}

}  // namespace plumule::stats
