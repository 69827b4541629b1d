// The rules in the order the header states them.
#include "stats/trials/stand_verdict.hpp"

#include <algorithm>
#include <stdexcept>

#include "stats/inference/t_test.hpp"
#include "stats/trays/bayes_factor.hpp"
#include "stats/trays/tray_aware_difference.hpp"

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

void check_worth(double d) {
  if (!(d > 0 && d <= 1))
    throw std::domain_error("the smallest difference worth having must lie in (0, 1]");
}

// Of an open trial, or one without sowings of a treatment.
StandVerdict undecided(TrialEnd end, double d) {
  check_worth(d);
  StandVerdict verdict;
  const bool open = end == TrialEnd::open;
  verdict.code = open ? StandCode::open : StandCode::too_small;
  verdict.ground = open ? StandGround::trial_open : StandGround::no_sowings;
  return verdict;
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

StandVerdict stand_verdict(std::span<const StandUnit> first, std::span<const StandUnit> second,
                           TrialEnd end, const RhoPrior& prior, double d) {
  check_rho_prior(prior);
  if (end == TrialEnd::open || first.empty() || second.empty()) return undecided(end, d);
  return stand_verdict(first, second, end,
                       TrayAwareDifference(counts(first), counts(second), prior), d);
}

StandVerdict stand_verdict(std::span<const StandUnit> first, std::span<const StandUnit> second,
                           TrialEnd end, const TrayAwareDifference& posterior, double d) {
  if (end == TrialEnd::open || first.empty() || second.empty()) return undecided(end, d);
  check_worth(d);
  StandVerdict verdict;
  const auto one = counts(first), two = counts(second);
  const double better = posterior.probability_better();
  const double worth = posterior.probability_better_by(d);
  const double not_less = posterior.probability_better_by(-d);
  verdict.p_better = better;
  verdict.p_worth = worth;
  verdict.p_worth_less = 1 - not_less;
  verdict.p_within = std::max(0.0, not_less - worth);
  const auto values = by_source(first), against = by_source(second);
  const bool uneven = spread_unevenly(values, against);
  const TTest t = uneven ? t_within_strata(values, against)
                         : pooled_t(unit_fractions(first), unit_fractions(second));
  if (uneven) verdict.within_sources = t.difference;
  if (t.status == TStatus::ok) verdict.t_p = t.p;
  if (first.size() < 2 || second.size() < 2) {
    verdict.ground = StandGround::single_unit;
    return verdict;
  }

  const auto claim = [&verdict, better](StandGround ground) {
    verdict.code = better >= 0.5 ? StandCode::more : StandCode::fewer;
    verdict.ground = ground;
  };
  const auto factor = [&] {
    verdict.bayes_factor = stand_bayes_factor(one, two).value;
    return *verdict.bayes_factor >= factor_needed;
  };
  const bool borne_out = !uneven || (t.status == TStatus::ok && t.p <= t_level &&
                                     (better >= 0.5 ? t.difference > 0 : t.difference < 0));
  const bool sure = std::max(better, 1 - better) >= sure_of_sign && borne_out;
  if (end == TrialEnd::after_looking) {
    if (factor() && borne_out) claim(StandGround::bayes_factor);
  } else if (sure && verdict.t_p) {
    if (*verdict.t_p <= t_level) claim(StandGround::posterior_and_t);
  } else if (sure && factor()) {
    claim(StandGround::posterior_and_factor);
  }
  if (verdict.code == StandCode::too_small && !uneven && verdict.p_within >= sure_within) {
    verdict.code = StandCode::neither;
    verdict.ground = StandGround::posterior_within;
  }
  if (uneven)  // the posterior's chances are those of sources and treatment mixed
    verdict.p_better = verdict.p_worth = verdict.p_worth_less = verdict.p_within = std::nullopt;
  return verdict;
}

}  // namespace plumule::stats
