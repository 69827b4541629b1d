// x of n reckoned without a logbook: intervals for one proportion, and for two their difference,
// ratio and odds ratio with the exact tests. The seeds are taken as independent.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "stats/inference/interval.hpp"
#include "stats/proportions/two_proportions.hpp"

namespace plumule::analysis {

struct Proportion {
  std::int64_t x = 0;
  std::int64_t n = 0;
  std::optional<double> fraction;          // none where n = 0
  std::vector<stats::Interval> intervals;  // Wilson, Clopper-Pearson, Jeffreys
};

struct SeedLevelTest {
  std::string method;       // fisher, fisher-mid-p, barnard, boschloo
  std::optional<double> p;  // two-sided; none where the tables are too many to enumerate
};

struct ReckonQuestion {
  double level = 0.95;
  stats::Side side = stats::Side::both;
  bool correction = false;  // continuity correction, where one is published
};

struct ProportionReckoning {
  ReckonQuestion asked;
  std::vector<Proportion> proportions;  // one or two
  // Of two only: the first against the second.
  std::optional<stats::TwoProportionEffect> difference;
  std::optional<stats::Interval> newcombe_corrected;  // of the difference, where asked for
  std::optional<stats::TwoProportionEffect> ratio;
  std::optional<stats::TwoProportionEffect> odds_ratio;
  std::vector<SeedLevelTest> tests;
};

struct XOfN {
  std::int64_t x = 0;
  std::int64_t n = 0;
};

// Throws std::domain_error unless 0 <= x <= n <= 1e9 and 0 < level < 1.
ProportionReckoning reckon(XOfN one, const ReckonQuestion& question);
ProportionReckoning reckon(XOfN one, XOfN other, const ReckonQuestion& question);

// The four tests of a table, each with its name.
std::vector<SeedLevelTest> seed_level_tests(const stats::TwoByTwo& table);

}  // namespace plumule::analysis
