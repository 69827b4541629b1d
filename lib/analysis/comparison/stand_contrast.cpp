#include "analysis/comparison/stand_contrast.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "analysis/rho/tray_prior.hpp"
#include "stats/trays/tray_aware_difference.hpp"

namespace plumule::analysis {

namespace {

struct Arm {
  std::vector<stats::StandUnit> units;
  std::vector<stats::TrayCount> counts;  // one a unit
  std::vector<double> fractions;
  std::vector<stats::StratumValue> by_source;  // the same
  std::int64_t up = 0;
  std::int64_t sown = 0;
};

std::optional<stats::StandUnit> stand_unit(const TrialLayout& layout, const Unit& unit) {
  stats::StandUnit result;
  for (const std::size_t i : unit.sowings)
    if (layout.sowings[i].in_stand)
      result.sowings.push_back({layout.sowings[i].course.up, *layout.sowings[i].course.units});
  if (result.sowings.empty()) return std::nullopt;
  result.source = unit.source;
  return result;
}

Arm arm(const TrialLayout& layout, std::size_t treatment, const std::vector<bool>& sources) {
  Arm result;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment || !sources[static_cast<std::size_t>(unit.source)]) continue;
    auto stand = stand_unit(layout, unit);
    if (!stand) continue;
    const auto count = stats::unit_count(*stand);
    result.up += count.up;
    result.sown += count.sown;
    result.counts.push_back(count);
    result.fractions.push_back(stats::unit_fraction(*stand));
    result.by_source.push_back({result.fractions.back(), unit.source});
    result.units.push_back(std::move(*stand));
  }
  return result;
}

Effect effect(const stats::Interval& tray_aware, const stats::TwoProportionEffect& seeds) {
  Effect result;
  if (std::isfinite(seeds.estimate)) result.estimate = seeds.estimate;
  result.intervals = {tray_aware, seeds.newcombe, seeds.miettinen_nurminen};
  return result;
}

stats::RhoPrior prior_for(const TrialLayout& layout, const RhoChoice& rho) {
  std::vector<records::Setting> settings;
  for (const auto& sowing : layout.sowings)
    if (sowing.in_stand) settings.push_back(sowing.setting);
  return prior_of(settings, rho);
}

stats::Randomisation randomised(const TrialLayout& layout, std::size_t treatment,
                                std::size_t against, const StandQuestion& question) {
  std::vector<stats::RandomisedUnit> units;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    if (const auto stand = stand_unit(layout, unit))
      units.push_back(
          {unit.code, unit.stratum, unit.treatment == treatment, stats::unit_fraction(*stand)});
  }
  return question.circumstances.open ? stats::randomisation_layout(units)
                                     : stats::randomisation_test(units, question.seed);
}

SeedLevel seed_level(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                     const stats::TwoByTwo& table) {
  SeedLevel result;
  result.tests = seed_level_tests(table);
  struct Cell {
    std::int64_t up[2] = {0, 0};
    std::int64_t sown[2] = {0, 0};
  };
  std::map<int, Cell> cells;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    const auto stand = stand_unit(layout, unit);
    if (!stand) continue;
    const auto count = stats::unit_count(*stand);
    const std::size_t side = unit.treatment == treatment ? 0 : 1;
    cells[unit.stratum].up[side] += count.up;
    cells[unit.stratum].sown[side] += count.sown;
  }
  if (cells.size() < 2) return result;
  std::vector<stats::TwoByTwo> strata;
  strata.reserve(cells.size());
  for (const auto& [stratum, cell] : cells)
    strata.emplace_back(cell.up[0], cell.sown[0], cell.up[1], cell.sown[1]);
  result.mantel_haenszel = stats::cochran_mantel_haenszel(strata);
  result.common_odds_ratio = stats::mantel_haenszel_odds_ratio(strata);
  result.agreement = stats::breslow_day(strata);
  return result;
}

// A source that has a final stand of one of the two only.
std::vector<int> half_sources(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                              const std::vector<bool>& both) {
  std::vector<int> list;
  for (const auto& unit : layout.units) {
    const bool asked = unit.treatment == treatment || unit.treatment == against;
    if (!asked || both[static_cast<std::size_t>(unit.source)] || !stand_unit(layout, unit))
      continue;
    if (std::find(list.begin(), list.end(), unit.source) == list.end()) list.push_back(unit.source);
  }
  std::sort(list.begin(), list.end());
  return list;
}

// Units in blocks that hold both, by block.
std::vector<stats::StratumValue> by_block(const TrialLayout& layout, std::size_t treatment,
                                          const BlockChoice& blocks) {
  std::vector<stats::StratumValue> values;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment || !blocks.both[static_cast<std::size_t>(unit.stratum)])
      continue;
    if (const auto stand = stand_unit(layout, unit))
      values.push_back({stats::unit_fraction(*stand), unit.stratum});
  }
  return values;
}

// The difference that the verdict goes by, with its range.
StandDifference told(const StandContrast& stand) {
  if (stand.within == stats::Within::nothing || !stand.t)
    return {*stand.difference, stand.interval};
  const bool ranged = stand.t->status == stats::TStatus::ok;
  return {stand.t->difference, ranged ? std::optional(stand.t->interval) : std::nullopt};
}

}  // namespace

StandContrast stand_contrast(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                             const StandQuestion& question) {
  StandContrast result;
  auto sources = sources_of_both(layout, treatment, against);
  result.sources_left_out = half_sources(layout, treatment, against, sources);
  bool confounded = std::find(sources.begin(), sources.end(), true) == sources.end();
  if (confounded) sources.assign(sources.size(), true);  // the figures are shown, no claim made
  const Arm first = arm(layout, treatment, sources);
  const Arm second = arm(layout, against, sources);
  result.units = static_cast<int>(first.units.size());
  result.units_against = static_cast<int>(second.units.size());
  result.prior = prior_for(layout, question.rho);
  result.rho90 = stats::rho90(result.prior);
  result.evidence.units = result.units;
  result.evidence.against = result.units_against;
  result.verdict = stand_verdict(question.circumstances, confounded, result.evidence);
  if (first.units.empty() || second.units.empty()) return result;

  const stats::TwoByTwo table(first.up, first.sown, second.up, second.sown);
  result.difference = table.first.fraction() - table.second.fraction();
  result.told = told(result);
  result.randomisation = randomised(layout, treatment, against, question);
  if (question.circumstances.open) return result;

  confounded = confounded || result.randomisation->status == stats::RandomisationStatus::no_block;
  const stats::TrayAwareDifference posterior(first.counts, second.counts, result.prior);
  const auto blocks = block_choice(layout, treatment, against, Compared::stand);
  const bool by_blocks =
      question.blocks && blocks.judged && !confounded && !question.circumstances.after_looking;
  const auto one = by_block(layout, treatment, blocks), two = by_block(layout, against, blocks);
  result.evidence =
      by_blocks
          ? stats::stand_evidence_within_blocks(one, two, result.randomisation->p, question.worth)
          : stats::stand_evidence(first.units, second.units, posterior, question.worth,
                                  question.circumstances.after_looking);
  result.verdict = stand_verdict(question.circumstances, confounded, result.evidence);
  result.interval = posterior.difference(question.level);
  if (!confounded) {
    result.within = result.evidence.within;
    result.t = by_blocks ? stats::t_within_strata(one, two, question.level)
               : result.within == stats::Within::sources
                   ? stats::t_within_strata(first.by_source, second.by_source, question.level)
                   : stats::pooled_t(first.fractions, second.fractions, question.level);
  }
  if (confounded || result.within == stats::Within::sources) result.evidence.chances.reset();
  result.told = told(result);
  result.discord = discord(result.verdict, result.evidence, result.interval, result.randomisation);
  if (question.detail) {
    const auto seeds = stats::difference(table, question.level);
    result.intervals = {*result.interval, seeds.newcombe, seeds.miettinen_nurminen};
    result.ratio = effect(posterior.ratio(question.level), stats::ratio(table, question.level));
    result.odds_ratio =
        effect(posterior.odds_ratio(question.level), stats::odds_ratio(table, question.level));
    result.seed_level = seed_level(layout, treatment, against, table);
  }
  if (!question.to_tell || !more_would_tell(result.verdict)) return result;
  if (by_blocks)
    result.blocks_to_tell = stats::blocks_to_tell(one, two, question.worth);
  else
    result.to_tell =
        stats::trays_to_tell(first.units, second.units, posterior, result.prior, question.worth);
  return result;
}

}  // namespace plumule::analysis
