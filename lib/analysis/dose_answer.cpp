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
  std::vector<stats::DoseGroup> units;  // seed that shared a jar is one: its spread is not seen
  std::set<double> doses;
  for (const auto& unit : layout.units) {
    const auto dose = dose_of(layout.treatments[unit.treatment], treatments);
    if (!dose) continue;
    std::int64_t up = 0;
    std::int64_t sown = 0;
    for (const std::size_t i : unit.sowings) {
      if (!layout.sowings[i].in_stand) continue;
      up += layout.sowings[i].course.up;
      sown += *layout.sowings[i].course.units;
    }
    if (sown == 0) continue;
    units.push_back({*dose, stats::Tally(up, sown)});
    doses.insert(*dose);
  }
  if (doses.size() < 3) return std::nullopt;
  DoseAnswer result;
  result.one_unit_each = units.size() == doses.size();
  result.tried.assign(doses.begin(), doses.end());
  result.curve = stats::fit_dose_curve(units, 2, level);
  result.best = stats::best_dose(units, level);
  result.trend = stats::cochran_armitage(units);
  return result;
}

}  // namespace plumule::analysis
