#include "report/parts/json_parts.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

namespace plumule::report {

std::string written(const Json& answer) {
  return answer.dump(2, ' ', false, Json::error_handler_t::replace);
}

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json json(const stats::Interval& interval) {
  Json result = {{"method", std::string(interval.method)},
                 {"level", number(interval.level)},
                 {"lower", number(interval.lower)},
                 {"upper", number(interval.upper)}};
  if (interval.side == stats::Side::both && !interval.correction) return result;
  result["sides"] = interval.sides();
  result["correction"] = interval.correction;
  return result;
}

Json json(const std::optional<stats::Interval>& interval) {
  return interval ? json(*interval) : Json(nullptr);
}

Json json(const std::vector<stats::Interval>& intervals) {
  Json list = Json::array();
  for (const auto& interval : intervals) list.push_back(json(interval));
  return list;
}

Json json(const stats::Estimate& estimate) {
  return {{"estimate", number(estimate.estimate)},
          {"se", number(estimate.se)},
          {"se_clustered", number(estimate.se_clustered)},
          {"lower", number(estimate.lower)},
          {"upper", number(estimate.upper)}};
}

Json json(const stats::Randomisation& test) {
  const bool ok = test.status == stats::RandomisationStatus::ok;
  Json result = {
      {"p", ok ? number(test.p) : Json(nullptr)},
      {"smallest_p", test.status == stats::RandomisationStatus::no_block ? Json(nullptr)
                                                                         : number(test.smallest_p)},
      {"arrangements", number(test.arrangements)},
      {"exact", test.exact},
      {"difference", ok ? number(test.difference) : Json(nullptr)},
      {"draws", test.draws},
      {"seed", test.exact ? Json(nullptr) : Json(test.seed)}};
  return result;
}

Json json(const std::optional<stats::Randomisation>& test) {
  return test ? json(*test) : Json(nullptr);
}

Json json(const stats::MassPoint& point) {
  return {
      {"left", number(point.left)}, {"right", number(point.right)}, {"mass", number(point.mass)}};
}

Json json(const std::optional<stats::MassPoint>& point) {
  return point ? json(*point) : Json(nullptr);
}

Json json(const std::vector<analysis::SeedLevelTest>& tests) {
  Json list = Json::array();
  for (const auto& test : tests)
    list.push_back({{"method", std::string(test.method)}, {"p", number(test.p)}});
  return list;
}

Json json(const stats::RhoPrior& prior, double rho90) {
  return {{"b", prior.is_fixed() ? Json(nullptr) : number(prior.b)},
          {"rho", prior.is_fixed() ? number(prior.fixed) : Json(nullptr)},
          {"rho90", number(rho90)},
          {"source", prior.is_fixed()   ? "asked"
                     : prior.groups > 0 ? "own"
                                        : "published"},
          {"groups", prior.groups}};
}

}  // namespace plumule::report
