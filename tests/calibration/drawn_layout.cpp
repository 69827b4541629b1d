// See the header.
#include "drawn_layout.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "stats/inference/t_test.hpp"
#include "stats/stand/claims.hpp"
#include "stats/trials/block_evidence.hpp"
#include "stats/trials/claims.hpp"
#include "stats/trials/randomisation.hpp"
#include "stats/trials/stand_evidence.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr int batch = 500, fewest = 1000, looked_into = 1000;

bool is_claim(StandClaim code) { return code == StandClaim::more || code == StandClaim::fewer; }

double stand(const SupposedTrial& trial, std::size_t stratum, int treatment) {
  return share_of(logit_of(trial.truth.stands[stratum]) +
                  trial.truth.shifts[static_cast<std::size_t>(treatment)]);
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

void judge_one(Random& random, const SupposedTrial& trial, double worth, Judged& made) {
  const int treatments = trial.treatments();
  const StandModel model(sow(random, trial), treatments, rho_from_beta(24));
  std::vector<StandContrast> all;
  for (int t = 1; t < treatments; ++t) all.push_back(contrast(model, t, 0, worth));
  const auto claims = claim_together(all);
  bool claimed = false, wrongly = false, alike = false, warned = false;
  double covered = 0, ranges = 0;
  std::vector<double> truth;
  for (int t = 0; t < treatments; ++t) {
    truth.push_back(true_mean(trial, model.layout(), t));
    const auto range = model.range(t);
    ranges += range.lower <= truth.back() && truth.back() <= range.upper ? 1 : 0;
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    const double shift = trial.truth.shifts[i + 1], difference = truth[i + 1] - truth[0];
    covered += all[i].range.lower <= difference && difference <= all[i].range.upper ? 1 : 0;
    claimed = claimed || is_claim(claims[i].claim);
    wrongly = wrongly || (claims[i].claim == StandClaim::more && shift <= 0) ||
              (claims[i].claim == StandClaim::fewer && shift >= 0);
    alike = alike || claims[i].claim == StandClaim::neither;
    warned = warned || all[i].spreads_more.has_value();
  }
  made.claims += claimed ? 1 : 0;
  made.false_claims += wrongly ? 1 : 0;
  made.neither += alike ? 1 : 0;
  made.warned += warned ? 1 : 0;
  made.covered += all.empty() ? 1 : covered / static_cast<double>(all.size());
  made.ranges += ranges / treatments;
}

}  // namespace

double logit_of(double share) { return std::log(share / (1 - share)); }
double share_of(double logit) { return 1 / (1 + std::exp(-logit)); }

std::vector<Spot> spots_of(const std::vector<Shares>& strata, int seeds) {
  std::vector<Spot> made;
  for (std::size_t b = 0; b < strata.size(); ++b) {
    const int stratum = static_cast<int>(b);
    for (int i = 0; i < strata[b].first; ++i) made.push_back({1, stratum, seeds});
    for (int i = 0; i < strata[b].second; ++i) made.push_back({0, stratum, seeds});
  }
  return made;
}

std::vector<Spot> spots_of_sizes(int treatments, const std::vector<int>& sizes) {
  std::vector<Spot> made;
  for (int t = 0; t < treatments; ++t)
    for (const int seeds : sizes) made.push_back({t, 0, seeds});
  return made;
}

std::vector<PlacedUnit> sow(Random& random, const SupposedTrial& trial) {
  const double rho = trial.truth.rho < 0 ? random.beta(1, 24) : trial.truth.rho;
  std::vector<PlacedUnit> made;
  for (const auto& spot : trial.spots) {
    const double p = stand(trial, static_cast<std::size_t>(spot.stratum), spot.treatment);
    made.push_back(
        {spot.treatment, spot.stratum, random.beta_binomial(spot.seeds, p, rho), spot.seeds});
  }
  return made;
}

double Judged::error(double share) const {
  return std::sqrt(std::max(share * (1 - share), 0.0) / trials);
}

Judged judge(const std::function<SupposedTrial(Random&)>& make, double error, int most,
             std::uint64_t seed, double worth) {
  Random random(seed);
  Judged sum;
  const auto shares = [&] {
    Judged made = sum;
    for (double* one : {&made.claims, &made.false_claims, &made.covered, &made.neither,
                        &made.warned, &made.ranges})
      *one /= sum.trials;
    return made;
  };
  for (;;) {
    for (int i = 0; i < batch; ++i) judge_one(random, make(random), worth, sum);
    sum.trials += batch;
    const auto now = shares();
    const double widest =
        std::max({now.error(now.false_claims), now.error(now.covered), now.error(now.neither)});
    if (sum.trials >= most || (sum.trials >= fewest && widest <= error)) return now;
  }
}

JudgedBefore judge_before(const SupposedTrial& trial, int trials, std::uint64_t seed,
                          double worth) {
  Random random(seed);
  const auto prior = rho_from_beta(24);
  std::vector<BlockLayout> blocks(trial.truth.stands.size());
  for (const auto& spot : trial.spots)
    ++(spot.treatment == 1 ? blocks[static_cast<std::size_t>(spot.stratum)].treated
                           : blocks[static_cast<std::size_t>(spot.stratum)].control);
  const bool within = judged_within_blocks(blocks);
  JudgedBefore made;
  for (int i = 0; i < trials; ++i) {
    const auto units = sow(random, trial);
    std::array<std::vector<StandUnit>, 2> sides;
    std::array<std::vector<StratumValue>, 2> values;
    std::array<std::vector<TrayCount>, 2> counts;
    std::array<std::vector<double>, 2> plain;
    std::vector<RandomisedUnit> lots;
    for (const auto& unit : units) {
      const auto side = static_cast<std::size_t>(1 - unit.treatment);
      const double value = static_cast<double>(unit.up) / static_cast<double>(unit.sown);
      const auto& block = blocks[static_cast<std::size_t>(unit.stratum)];
      sides[side].push_back({{{unit.up, unit.sown}}});
      counts[side].push_back({unit.up, unit.sown});
      plain[side].push_back(value);
      if (block.treated == 0 || block.control == 0) continue;
      values[side].push_back({value, unit.stratum});
      lots.push_back({std::to_string(lots.size()), unit.stratum, unit.treatment == 1, value});
    }
    const bool looked = i < looked_into;
    StandClaim code = StandClaim::none;
    if (within) {
      const bool flat = t_within_strata(values[0], values[1]).status == TStatus::no_variance;
      const double lots_p = flat ? randomisation_test(lots).p : 1;
      code = stand_claim(stand_evidence_within_blocks(values[0], values[1], lots_p, worth));
    } else {
      const auto t = pooled_t(plain[0], plain[1]);
      if (looked || t.status != TStatus::ok || t.p <= 0.05)  // no claim without it
        code = stand_claim(stand_evidence(sides[0], sides[1], prior, worth));
    }
    made.claims += is_claim(code) ? 1.0 / trials : 0;
    if (!looked) continue;
    const double some = std::min(trials, looked_into);
    made.neither += code == StandClaim::neither ? 1 / some : 0;
    double truth = 0, whole = 0;
    for (std::size_t b = 0; b < blocks.size(); ++b) {
      if (blocks[b].treated == 0 || blocks[b].control == 0) continue;
      const double weight = blocks[b].treated + blocks[b].control;
      truth += weight * (stand(trial, b, 1) - stand(trial, b, 0));
      whole += weight;
    }
    const double above = TrayAwareDifference(counts[0], counts[1], prior)
                             .probability_better_by(whole > 0 ? truth / whole : 0);
    made.covered += above >= 0.025 && above <= 0.975 ? 1 / some : 0;
  }
  return made;
}

}  // namespace plumule::calibration
