#include "analysis/comparison/stand_contrast.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "stats/trays/tray_aware_difference.hpp"

namespace plumule::analysis {

namespace {

struct Arm {
  std::vector<stats::TrayCount> counts;  // one a unit
  std::int64_t up = 0, lost = 0, sown = 0;
  double fraction(std::int64_t count) const {
    return static_cast<double>(count) / static_cast<double>(sown);
  }
};

Arm arm(const TrialLayout& layout, std::size_t treatment) {
  Arm result;
  for (const auto& unit : layout.units) {
    const auto stand = unit.treatment == treatment ? unit_stand(layout, unit) : std::nullopt;
    if (!stand) continue;
    result.up += stand->up;
    result.lost += stand->lost;
    result.sown += stand->sown;
    result.counts.push_back({stand->up, stand->sown});
  }
  return result;
}

Effect effect(const stats::Interval& tray_aware, const stats::TwoProportionEffect& seeds) {
  Effect result;
  if (std::isfinite(seeds.estimate)) result.estimate = seeds.estimate;
  result.intervals = {tray_aware, seeds.newcombe, seeds.miettinen_nurminen};
  return result;
}

stats::Randomisation randomised(const TrialLayout& layout, std::size_t treatment,
                                std::size_t against, const StandQuestion& question) {
  std::vector<stats::RandomisedUnit> units;
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    if (const auto stand = unit_stand(layout, unit))
      units.push_back({unit.code, unit.stratum, unit.treatment == treatment, stand->fraction});
  }
  return question.open ? stats::randomisation_layout(units)
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
    const auto count = unit_stand(layout, unit);
    if (!count) continue;
    const std::size_t side = unit.treatment == treatment ? 0 : 1;
    cells[unit.stratum].up[side] += count->up;
    cells[unit.stratum].sown[side] += count->sown;
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

StandFinding finding(const stats::StandModel& model, std::size_t treatment, std::size_t against,
                     const StandQuestion& question) {
  StandFinding result;
  result.by_model = stats::contrast(model, static_cast<int>(treatment), static_cast<int>(against),
                                    question.worth, question.level);
  return result;
}

}  // namespace

StandContrast stand_contrast(const TrialLayout& layout, const StandModels& models,
                             std::size_t treatment, std::size_t against,
                             const StandQuestion& question) {
  StandContrast result;
  const Arm first = arm(layout, treatment);
  const Arm second = arm(layout, against);
  result.units = static_cast<int>(first.counts.size());
  result.units_against = static_cast<int>(second.counts.size());
  if (first.counts.empty() || second.counts.empty()) return result;

  result.parted_by = parted_by(layout, treatment, against, Compared::stand);
  result.came_up = finding(models.came_up, treatment, against, question);
  result.came_up->plain = first.fraction(first.up) - second.fraction(second.up);
  if (models.standing && (first.lost > 0 || second.lost > 0)) {
    result.standing = finding(*models.standing, treatment, against, question);
    result.standing->plain =
        first.fraction(first.up - first.lost) - second.fraction(second.up - second.lost);
  }
  result.randomisation = randomised(layout, treatment, against, question);
  if (models.unlike && !question.open)
    result.unlike = finding(*models.unlike, treatment, against, question);
  for (auto* one : {&result.came_up, &result.standing, &result.unlike})
    if (*one) (*one)->told = (*one)->by_model.told_apart && result.parted_by.empty();
  if (question.open || !question.detail) return result;

  const stats::TwoByTwo table(first.up, first.sown, second.up, second.sown);
  const stats::TrayAwareDifference posterior(first.counts, second.counts, models.prior);
  const auto seeds = stats::difference(table, question.level);
  result.intervals = {posterior.difference(question.level), seeds.newcombe,
                      seeds.miettinen_nurminen};
  result.ratio = effect(posterior.ratio(question.level), stats::ratio(table, question.level));
  result.odds_ratio =
      effect(posterior.odds_ratio(question.level), stats::odds_ratio(table, question.level));
  result.seed_level = seed_level(layout, treatment, against, table);
  return result;
}

}  // namespace plumule::analysis
