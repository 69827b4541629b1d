#include "analysis/comparison/judging.hpp"

#include <algorithm>

#include "stats/inference/multiplicity.hpp"

namespace plumule::analysis {

namespace {

using Part = std::optional<StandFinding> StandContrast::*;

// What the figures of one quantity bear out: of each contrast in order, none where it has none.
std::vector<std::optional<stats::JudgedContrast>> judged_stands(std::span<Contrast* const> family,
                                                                Part part) {
  std::vector<stats::StandContrast> figures;
  bool after_looking = false;
  for (const Contrast* one : family)
    if (const auto& finding = one->stand.*part) {
      figures.push_back(finding->by_model);
      figures.back().told_apart = finding->told;
      after_looking = after_looking || one->circumstances.after_looking;
    }
  const auto claims = stats::claim_together(
      figures, after_looking ? stats::Looking::after_looking : stats::Looking::as_planned);
  std::vector<std::optional<stats::JudgedContrast>> all(family.size());
  auto next = claims.begin();
  for (std::size_t i = 0; i < family.size(); ++i)
    if (family[i]->stand.*part) all[i] = *next++;
  return all;
}

// Likewise of the days, on one clock.
std::vector<std::optional<stats::JudgedSpeed>> judged_days(std::span<Contrast* const> family,
                                                           bool wetted) {
  std::vector<stats::SpeedEvidence> figures;
  std::vector<std::size_t> whose;
  for (std::size_t i = 0; i < family.size(); ++i) {
    const auto& speed = family[i]->speed;
    if (wetted && !speed.mean_days_wetted) continue;
    figures.push_back(
        wetted ? stats::SpeedEvidence{speed.mean_days_wetted->difference, speed.gaps_wetted}
               : stats::SpeedEvidence{speed.mean_days.difference, speed.gaps});
    whose.push_back(i);
  }
  const auto claims = stats::claim_days_together(figures);
  std::vector<std::optional<stats::JudgedSpeed>> all(family.size());
  for (std::size_t k = 0; k < claims.size(); ++k) all[whose[k]] = claims[k];
  return all;
}

void give_stand(Contrast& contrast, Part part, const stats::JudgedContrast& judged,
                const StandVerdict& verdict, int comparisons) {
  auto& finding = *(contrast.stand.*part);
  finding.judged = judged;
  finding.judged_by = judged_by(verdict, comparisons, contrast.circumstances.after_looking);
}

bool can_be_judged(const Contrast& one) {
  const auto& came_up = one.stand.came_up;
  return (came_up && came_up->told && came_up->by_model.can_claim()) ||
         one.speed.mean_days.difference.p;
}

// How many of a family there is anything to judge by.
int judged_in(std::span<Contrast* const> family) {
  return static_cast<int>(std::count_if(family.begin(), family.end(),
                                        [](const Contrast* one) { return can_be_judged(*one); }));
}

bool one_laid_out(const TrialLayout& layout, const Contrast& contrast) {
  const auto laid_out = [&](const std::string& name) {
    return std::count_if(layout.units.begin(), layout.units.end(), [&](const Unit& unit) {
      return layout.treatments[unit.treatment] == name;
    });
  };
  return laid_out(contrast.treatment) < 2 || laid_out(contrast.against) < 2;
}

}  // namespace

void judge_together(std::span<Contrast* const> family, std::size_t first) {
  const auto came_up = judged_stands(family, &StandContrast::came_up);
  const auto standing = judged_stands(family, &StandContrast::standing);
  const auto unlike = judged_stands(family, &StandContrast::unlike);
  const auto sown = judged_days(family, false), wetted = judged_days(family, true);
  const int comparisons = judged_in(family);
  for (std::size_t i = first; i < family.size(); ++i) {
    Contrast& one = *family[i];
    const auto& known = one.circumstances;
    auto& stand = one.stand;
    auto& verdicts = one.verdicts;
    verdicts.came_up = stand_verdict(known, !stand.parted_by.empty(), stand.units,
                                     stand.units_against, came_up[i]);
    if (came_up[i])
      give_stand(one, &StandContrast::came_up, *came_up[i], verdicts.came_up, comparisons);
    if (standing[i]) {
      verdicts.standing = stand_verdict(known, !stand.parted_by.empty(), stand.units,
                                        stand.units_against, standing[i]);
      give_stand(one, &StandContrast::standing, *standing[i], *verdicts.standing, comparisons);
    }
    if (unlike[i]) stand.unlike->judged = *unlike[i];
    verdicts.speed = speed_verdict(known, !one.speed.parted_by.empty(),
                                   one.speed.mean_days.difference, *sown[i], wetted[i]);
    one.joint = joint(verdicts);
    one.code = joint_code(verdicts);
    if (stand.came_up && stand.came_up->told)
      stand.discord = discord(verdicts.came_up, comparisons, stand.came_up->by_model.range,
                              stand.randomisation);
  }
}

void adjust(std::span<Contrast* const> family, std::optional<Adjusted> Contrast::*part) {
  const int comparisons = judged_in(family);
  if (comparisons < 2) return;
  for (Contrast* contrast : family) {
    (contrast->*part).emplace();
    (contrast->*part)->comparisons = comparisons;
  }
  const auto over = [&](auto&& p_of, std::optional<double> Adjusted::*kind) {
    std::vector<double> p;
    for (const Contrast* contrast : family)
      if (const std::optional<double> one = p_of(*contrast)) p.push_back(*one);
    const auto adjusted = stats::holm(p);
    auto next = adjusted.begin();
    for (Contrast* contrast : family)
      if (p_of(*contrast)) (*(contrast->*part)).*kind = *next++;
  };
  const auto of_stand = [](Part of) {
    return [of](const Contrast& c) -> std::optional<double> {
      const auto& finding = c.stand.*of;
      if (!finding || !finding->told || !finding->by_model.can_claim()) return std::nullopt;
      return std::clamp(finding->by_model.tail(), 0.0, 1.0);
    };
  };
  over(of_stand(&StandContrast::came_up), &Adjusted::came_up);
  over(of_stand(&StandContrast::standing), &Adjusted::standing);
  over(
      [](const Contrast& c) -> std::optional<double> {
        const auto& test = c.stand.randomisation;
        if (!test || test->status != stats::RandomisationStatus::ok) return std::nullopt;
        return test->p;
      },
      &Adjusted::randomisation);
  over([](const Contrast& c) { return c.speed.mean_days.difference.p; }, &Adjusted::days);
}

void reckon_trays_needed(std::span<Contrast* const> family, const TrialLayout& layout,
                         const StandModels& models, double worth) {
  for (Contrast* one : family) {
    if (!one->stand.came_up || !more_would_tell(one->verdicts.came_up)) continue;
    if (one->last_look && !one_laid_out(layout, *one)) continue;
    const auto& figures = one->stand.came_up->by_model;
    one->stand.to_tell = stats::trays_needed(models.came_up, figures.first, figures.second,
                                             models.prior, worth, static_cast<int>(family.size()));
  }
}

}  // namespace plumule::analysis
