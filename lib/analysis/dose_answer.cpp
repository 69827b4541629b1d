#include "analysis/dose_answer.hpp"

#include <algorithm>
#include <set>

namespace plumule::analysis {

namespace {

std::optional<double> dose_of(const std::string& treatment,
                              std::span<const records::Treatment> treatments) {
  for (const auto& known : treatments)
    if (known.label == treatment && known.soak_hours) return known.soak_hours;
  if (treatment == records::untreated) return 0;
  return std::nullopt;
}

}  // namespace

std::optional<DoseAnswer> dose_answer(const TrialLayout& layout,
                                      std::span<const records::Treatment> treatments,
                                      double level) {
  std::vector<stats::DoseGroup> sowings;
  std::set<double> doses;
  for (const auto& sowing : layout.sowings) {
    if (!sowing.in_stand) continue;
    const auto dose = dose_of(sowing.history->sowing.treatment, treatments);
    if (!dose) continue;
    sowings.push_back({*dose, stats::Tally(sowing.course.up, *sowing.course.units)});
    doses.insert(*dose);
  }
  if (doses.size() < 3) return std::nullopt;
  DoseAnswer result;
  result.tried.assign(doses.begin(), doses.end());
  result.curve = stats::fit_dose_curve(sowings, 2, level);
  result.best = stats::best_dose(sowings, level);
  result.trend = stats::cochran_armitage(sowings);
  return result;
}

}  // namespace plumule::analysis
