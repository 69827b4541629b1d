// The words in which methods, families, priors and units are named on a screen and in JSON.
#pragma once

#include <string>
#include <string_view>

#include "analysis/summary/group.hpp"

namespace plumule::report {

std::string_view word(stats::TimeFamily family);   // log-logistic, lognormal, weibull, gamma
std::string_view word(stats::ModelStatus status);  // fitted, nothing-emerged, single-count, ...
std::string_view word(stats::RangeSource source);  // table, exact, normal

// "seed" and "seeds", "cluster(s)", "cell(s)".
std::string_view unit_word(records::UnitKind unit, std::int64_t number);
// What was counted, for a heading: "roots seen", "shoots up", "usable seedlings".
std::string_view counting_words(records::Counting counting);
// "seeds of one tray taken as alike: rho ~ Beta(1, 24), 90 % below 0.09".
std::string prior_words(const stats::RhoPrior& prior, double rho90);

}  // namespace plumule::report
