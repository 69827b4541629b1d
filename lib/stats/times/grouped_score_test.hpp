// The score test of proportional hazards for emergence times known only between looks, seeds taken
// as independent: a seed-level test, shown beside the one that permutes sowings.
#pragma once

#include <span>

#include "stats/times/time_course.hpp"

namespace plumule::stats {

struct GroupedScoreTest {
  bool given = false;   // false: units unknown, nothing up, all in one set, or no information left
  double u = 0;         // score of the log hazard ratio at 0; above 0, earlier or more of them up
  double variance = 0;  // observed information, the baseline's estimated away
  double chi_squared = 0;  // u^2 / variance, one degree of freedom
  double p = 1;
};

// Finkelstein 1986, Biometrics 42:845-854: S(t | treated) = S(t)^exp(beta), baseline log(-log S) at
// the sets of the pooled nonparametric estimate, observed information at beta = 0. u is that of
// grouped_rank_test with RankScores::finkelstein. Throws std::domain_error for a bad course.
GroupedScoreTest grouped_score_test(std::span<const TimeCourse> treatment,
                                    std::span<const TimeCourse> against);

}  // namespace plumule::stats
