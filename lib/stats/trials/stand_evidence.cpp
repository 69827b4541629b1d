#include "stats/trials/stand_evidence.hpp"

#include <algorithm>
#include <stdexcept>

#include "stats/trays/bayes_factor.hpp"
#include "stats/trials/claims.hpp"

namespace plumule::stats {
namespace {

std::vector<TrayCount> counts(std::span<const StandUnit> units) {
  std::vector<TrayCount> made;
  for (const auto& unit : units) made.push_back(unit_count(unit));
  return made;
}

std::vector<StratumValue> by_source(std::span<const StandUnit> units) {
  std::vector<StratumValue> made;
  for (const auto& unit : units) made.push_back({unit_fraction(unit), unit.source});
  return made;
}

PosteriorChances chances_of(const TrayAwareDifference& posterior, double d) {
  PosteriorChances chances;
  const double not_less = posterior.probability_better_by(-d);
  chances.better = posterior.probability_better();
  chances.worth = posterior.probability_better_by(d);
  chances.worth_less = 1 - not_less;
  chances.within = std::max(0.0, not_less - chances.worth);
  return chances;
}

// What is known without any figure.
StandEvidence bare(std::span<const StandUnit> first, std::span<const StandUnit> second, double d,
                   bool after_looking) {
  if (!(d > 0 && d <= 1))
    throw std::domain_error("the smallest difference worth having must lie in (0, 1]");
  StandEvidence evidence;
  evidence.units = static_cast<int>(first.size());
  evidence.against = static_cast<int>(second.size());
  evidence.worth = d;
  evidence.after_looking = after_looking;
  return evidence;
}

}  // namespace

double unit_fraction(const StandUnit& unit) {
  if (unit.sowings.empty()) throw std::domain_error("a unit without sowings has no fraction");
  double sum = 0;
  for (const auto& sowing : unit.sowings) {
    if (sowing.sown < 1) throw std::domain_error("a sowing without seed has no fraction");
    sum += static_cast<double>(sowing.up) / static_cast<double>(sowing.sown);
  }
  return sum / static_cast<double>(unit.sowings.size());
}

std::vector<double> unit_fractions(std::span<const StandUnit> units) {
  std::vector<double> made;
  for (const auto& unit : units) made.push_back(unit_fraction(unit));
  return made;
}

TrayCount unit_count(const StandUnit& unit) {
  TrayCount all;
  for (const auto& sowing : unit.sowings) {
    all.up += sowing.up;
    all.sown += sowing.sown;
  }
  return all;
}

std::optional<double> StandEvidence::t_p() const {
  if (t.status != TStatus::ok) return std::nullopt;
  return t.p;
}

StandEvidence stand_evidence(std::span<const StandUnit> first, std::span<const StandUnit> second,
                             const RhoPrior& prior, double d, bool after_looking) {
  check_rho_prior(prior);
  if (first.empty() || second.empty()) return bare(first, second, d, after_looking);
  return stand_evidence(first, second, TrayAwareDifference(counts(first), counts(second), prior), d,
                        after_looking);
}

StandEvidence stand_evidence(std::span<const StandUnit> first, std::span<const StandUnit> second,
                             const TrayAwareDifference& posterior, double d, bool after_looking) {
  StandEvidence evidence = bare(first, second, d, after_looking);
  if (first.empty() || second.empty()) return evidence;
  evidence.chances = chances_of(posterior, d);
  const auto values = by_source(first), against = by_source(second);
  if (spread_unevenly(values, against)) {
    evidence.within = Within::sources;
    evidence.t = t_within_strata(values, against, neither_level);
  } else {
    evidence.t = pooled_t(unit_fractions(first), unit_fractions(second), neither_level);
  }
  const bool flat = evidence.t.status != TStatus::ok && evidence.within == Within::nothing;
  const bool several = first.size() >= 2 && second.size() >= 2;
  if (several && (after_looking || (flat && sure_of_a_sign(*evidence.chances))))
    evidence.bayes_factor = stand_bayes_factor(counts(first), counts(second)).value;
  return evidence;
}

}  // namespace plumule::stats
