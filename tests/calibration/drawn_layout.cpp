// See the header.
#include "drawn_layout.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

// What stands in the end, of what was sown.
double stand(const SupposedTrial& trial, std::size_t stratum, int treatment) {
  const auto t = static_cast<std::size_t>(treatment);
  const auto& truth = trial.truth;
  const double up = share_of(logit_of(truth.stands[stratum]) + truth.shifts[t]);
  return truth.lost.empty() ? up : up * (1 - truth.lost[t]);
}

// Over the strata as the model weighs them (it numbers those that have units as they ascend).
double true_mean(const SupposedTrial& trial, const StandLayout& layout, int treatment) {
  std::set<std::size_t> strata;
  for (const auto& spot : trial.spots) strata.insert(static_cast<std::size_t>(spot.stratum));
  double sum = 0;
  std::size_t b = 0;
  for (const std::size_t stratum : strata)
    sum += layout.share[b++] * stand(trial, stratum, treatment);
  return sum;
}

void judge_one(Random& random, const SupposedTrial& trial, Judged& made) {
  const int treatments = trial.treatments();
  const StandModel model(sow(random, trial), treatments, rho_from_beta(24));
  std::vector<StandContrast> all;
  for (int t = 1; t < treatments; ++t) all.push_back(contrast(model, t, 0));
  const auto together = claim_together(all);
  std::vector<double> truth;
  double ranges = 0;
  for (int t = 0; t < treatments; ++t) {
    truth.push_back(true_mean(trial, model.layout(), t));
    const auto range = model.range(t);
    ranges += range.lower <= truth.back() && truth.back() <= range.upper ? 1 : 0;
  }
  bool claimed = false, wrongly = false, alone = false, alike = false, warned = false;
  double covered = 0, not_told = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const double difference = truth[i + 1] - truth[0];
    const auto is_wrong = [difference](StandClaim claim) {
      return (claim == StandClaim::more && difference <= 1e-12) ||
             (claim == StandClaim::fewer && difference >= -1e-12);
    };
    covered += all[i].range.lower <= difference && difference <= all[i].range.upper ? 1 : 0;
    not_told += together[i].ground == ClaimGround::not_told_apart ? 1 : 0;
    claimed = claimed || is_claim(together[i].claim);
    wrongly = wrongly || is_wrong(together[i].claim);
    alone = alone || is_wrong(claim_together({&all[i], 1}).front().claim);
    alike = alike || together[i].claim == StandClaim::neither;
    warned = warned || all[i].spreads_more.has_value();
  }
  made.claims.see(claimed);
  made.false_claims.see(wrongly);
  made.by_itself.see(alone);
  made.neither.see(alike);
  made.warned.see(warned);
  made.covered.see(covered / static_cast<double>(all.size()));
  made.not_told.see(not_told / static_cast<double>(all.size()));
  made.ranges.see(ranges / treatments);
}

}  // namespace

double logit_of(double share) { return std::log(share / (1 - share)); }
double share_of(double logit) { return 1 / (1 + std::exp(-logit)); }
double shift(double from, double to) { return logit_of(to) - logit_of(from); }

std::vector<double> gradient(double from, double to, int steps) {
  std::vector<double> made;
  for (int i = 0; i < steps; ++i)
    made.push_back(share_of(logit_of(from) + shift(from, to) * i / std::max(1, steps - 1)));
  return made;
}

std::vector<Spot> spots_of(const std::vector<Shares>& strata, int seeds) {
  std::vector<Spot> made;
  for (std::size_t b = 0; b < strata.size(); ++b) {
    const int stratum = static_cast<int>(b);
    for (int i = 0; i < strata[b].first; ++i) made.push_back({1, stratum, seeds});
    for (int i = 0; i < strata[b].second; ++i) made.push_back({0, stratum, seeds});
  }
  return made;
}

std::vector<Spot> pairs_of(int blocks, int seeds) {
  return spots_of(std::vector<Shares>(static_cast<std::size_t>(blocks), {1, 1}), seeds);
}

std::vector<Spot> spots_of_sizes(int treatments, const std::vector<int>& sizes) {
  std::vector<Spot> made;
  for (int t = 0; t < treatments; ++t)
    for (const int seeds : sizes) made.push_back({t, 0, seeds});
  return made;
}

SupposedTrial two(std::vector<Spot> spots, double from, double to, double rho) {
  return {std::move(spots), {{from}, {0, shift(from, to)}, rho}};
}

SupposedTrial alike(std::vector<Spot> spots, std::vector<double> stands, double rho,
                    int treatments) {
  return {std::move(spots),
          {std::move(stands), std::vector<double>(static_cast<std::size_t>(treatments), 0.0), rho}};
}

std::vector<PlacedUnit> sow(Random& random, const SupposedTrial& trial) {
  const auto& truth = trial.truth;
  const double rho = truth.rho < 0 ? random.beta(1, 24) : truth.rho;
  std::vector<PlacedUnit> made;
  for (const auto& spot : trial.spots) {
    const auto t = static_cast<std::size_t>(spot.treatment);
    const double p =
        share_of(logit_of(truth.stands[static_cast<std::size_t>(spot.stratum)]) + truth.shifts[t]);
    auto up = random.beta_binomial(spot.seeds, p, rho);
    if (!truth.lost.empty() && up > 0)
      up -= random.beta_binomial(up, truth.lost[t], truth.lost_rho);
    made.push_back({spot.treatment, spot.stratum, up, spot.seeds});
  }
  return made;
}

bool is_claim(StandClaim claim) { return claim == StandClaim::more || claim == StandClaim::fewer; }

Judged judge(const Effort& effort, const std::function<SupposedTrial(Random&)>& make,
             std::uint64_t seed, Known known, int shortly, double error) {
  return drawn<Judged>(
      effort, shortly, seed,
      [&](Random& random, Judged& made) { judge_one(random, make(random), made); }, known, error);
}

std::string rho_name(double rho) { return rho < 0 ? "from its prior" : Report::number(2, rho); }

}  // namespace plumule::calibration
