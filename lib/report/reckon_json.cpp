#include "report/reckoning.hpp"

#include <nlohmann/json.hpp>

#include "report/parts/json_parts.hpp"

namespace plumule::report {

namespace {

Json proportion_json(const analysis::Proportion& proportion) {
  return {{"up", proportion.x},
          {"sown", proportion.n},
          {"fraction", number(proportion.fraction)},
          {"intervals", json(proportion.intervals)}};
}

Json effect_json(const stats::TwoProportionEffect& effect,
                 const std::optional<stats::Interval>& corrected = {}) {
  Json intervals = Json::array({json(effect.newcombe), json(effect.miettinen_nurminen)});
  if (corrected) intervals.push_back(json(*corrected));
  return {{"estimate", number(effect.estimate)}, {"intervals", intervals}};
}

}  // namespace

std::string reckon_json(const analysis::ProportionReckoning& finding) {
  Json result = proportion_json(finding.proportions.front());
  if (finding.proportions.size() < 2) return written(result);
  result["proportions"] = Json::array(
      {proportion_json(finding.proportions[0]), proportion_json(finding.proportions[1])});
  result["difference"] = effect_json(*finding.difference, finding.newcombe_corrected);
  result["ratio"] = effect_json(*finding.ratio);
  result["odds_ratio"] = effect_json(*finding.odds_ratio);
  result["tests"] = json(finding.tests);
  return written(result);
}

}  // namespace plumule::report
