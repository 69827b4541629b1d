// The parts that many answers share as JSON: intervals, estimates, tests. What can't be said is
// null, never NaN or infinity.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "analysis/comparison/contrast.hpp"
#include "analysis/summary/group.hpp"

namespace plumule::report {

using Json = nlohmann::ordered_json;

// An answer as text, indented by two; bytes that are no UTF-8 are replaced.
std::string written(const Json& answer);

Json number(double value);  // null unless finite
Json number(const std::optional<double>& value);
Json text_or_null(const std::string& text);

// {method, level, lower, upper}; one-sided or corrected ones also say sides and correction.
Json json(const stats::Interval& interval);
Json json(const std::optional<stats::Interval>& interval);
Json json(const std::vector<stats::Interval>& intervals);
// {estimate, se, se_clustered, lower, upper}
Json json(const stats::Estimate& estimate);
// {p, smallest_p, arrangements, exact, difference, draws, seed}
Json json(const stats::Randomisation& test);
Json json(const std::optional<stats::Randomisation>& test);
// {left, right, mass}
Json json(const stats::MassPoint& point);
Json json(const std::optional<stats::MassPoint>& point);
// [{method, p}]
Json json(const std::vector<analysis::SeedLevelTest>& tests);
// {b, rho, rho90, source, groups}
Json json(const stats::RhoPrior& prior, double rho90);

}  // namespace plumule::report
