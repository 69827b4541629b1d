#include "analysis/comparison/dose_answer.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "stats/stand/doses.hpp"

namespace plumule::analysis {

namespace {

constexpr double hot_water_c = 40;
constexpr double same_water_c = 2;

struct Soak {
  std::string treatment;
  double hours = 0;
  std::optional<double> water_c;
  bool alone = true;  // nothing else was done to the seed
};

bool soaked_alone(const records::Treatment& treatment) {
  return treatment.scarification.empty() && !treatment.chill_days && !treatment.chill_c &&
         treatment.priming.empty() && treatment.water_c.value_or(0) < hot_water_c;
}

std::vector<Soak> soaks_of(const std::vector<std::string>& compared,
                           std::span<const records::Treatment> treatments) {
  std::vector<Soak> soaks;
  for (const auto& name : compared) {
    const auto known = std::find_if(treatments.begin(), treatments.end(),
                                    [&](const auto& one) { return one.label == name; });
    if (known != treatments.end() && known->soak_hours)
      soaks.push_back({name, *known->soak_hours,
                       *known->soak_hours > 0 ? known->water_c : std::nullopt,
                       soaked_alone(*known)});
    else if (name == records::untreated)
      soaks.push_back({name, 0, std::nullopt, true});
  }
  return soaks;
}

bool like(double a, double b) { return std::abs(a - b) <= same_water_c; }

// The water that most of them were soaked in; the cooler of two that as many were in.
std::optional<double> usual_water(const std::vector<Soak>& soaks) {
  std::optional<double> usual;
  std::ptrdiff_t most = 0;
  for (const auto& soak : soaks) {
    if (!soak.alone || !soak.water_c) continue;
    const auto as_many = std::count_if(soaks.begin(), soaks.end(), [&](const Soak& other) {
      return other.alone && other.water_c && like(*other.water_c, *soak.water_c);
    });
    if (as_many < most || (as_many == most && usual && *usual <= *soak.water_c)) continue;
    most = as_many;
    usual = soak.water_c;
  }
  return usual;
}

}  // namespace

std::optional<DoseAnswer> dose_answer(const TrialLayout& layout,
                                      std::span<const records::Treatment> treatments,
                                      const stats::RhoPrior& prior, double level) {
  DoseAnswer result;
  std::map<std::string, double> hours;  // of the treatments that are doses
  const auto soaks = soaks_of(layout.treatments, treatments);
  const auto water = usual_water(soaks);
  for (const auto& soak : soaks) {
    if (soak.alone && (!soak.water_c || like(*soak.water_c, *water)))
      hours[soak.treatment] = soak.hours;
    else
      result.left_out.push_back(soak.treatment);
  }
  std::vector<stats::DoseGroup> units;  // seed that shared a jar is one: its spread is not seen
  struct Tried {
    std::int64_t up = 0, sown = 0;
    int units = 0;
  };
  std::map<double, Tried> doses;
  for (const auto& unit : layout.units) {
    const auto dose = hours.find(layout.treatments[unit.treatment]);
    const auto stand = dose == hours.end() ? std::nullopt : unit_stand(layout, unit);
    if (!stand) continue;
    units.push_back({dose->second, stats::Tally(stand->up, stand->sown), unit.stratum});
    auto& all = doses[dose->second];
    all.up += stand->up;
    all.sown += stand->sown;
    ++all.units;
  }
  if (doses.size() < 3) return std::nullopt;
  result.single_unit = std::any_of(doses.begin(), doses.end(),
                                   [](const auto& dose) { return dose.second.units < 2; });
  for (const auto& [dose, all] : doses) {
    result.tried.push_back(dose);
    const double fraction = static_cast<double>(all.up) / static_cast<double>(all.sown);
    if (fraction <= result.best_tried_fraction) continue;
    result.best_tried = dose;
    result.best_tried_fraction = fraction;
  }
  const auto worth = stats::worth_of_trays(units, prior);
  result.curve = stats::fit_dose_curve(worth.sowings, 2, level);
  result.best = stats::best_dose(worth.sowings, level);
  result.off_the_curve = stats::lack_of_fit_p(worth.sowings) <= 1 - level;
  result.trend = stats::cochran_armitage(units);
  return result;
}

}  // namespace plumule::analysis
