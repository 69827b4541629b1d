// Rank tests for emergence times known only between looks: every seed gets a score from the pooled
// nonparametric estimate, and the sowings' scores are compared between two treatments.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "stats/proportions/replicates.hpp"
#include "stats/times/npmle.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::stats {

// S: 1 - cumulative mass at the end of a set; S(infinity) = 0. Span (L, R] scores
// (g(L) - g(R)) / (S(L) - S(R)), where g(t) = -S(t) H(t) with H the sum of mass / S-before up to t
// (sun: Sun 1996, Stat. Med. 15:1387-1395, grouped log-rank), S log S (finkelstein: Finkelstein
// 1986, Biometrics 42:845-854) or S (S - 1), which gives S(L) + S(R) - 1 (wilcoxon). See Fay & Shaw
// 2010, J. Stat. Software 36(2). High scores are early emergences.
enum class RankScores { sun, finkelstein, wilcoxon };

// The score of each span given, from an estimate of which these spans were part; one that has no
// mass there throws std::domain_error. Known never-emergers score as those censored last.
std::vector<double> rank_scores(std::span<const Span> spans, const Npmle& pooled, RankScores kind);

// One sowing's seeds: their number and the sum of their scores.
struct SowingScore {
  double units = 0;
  double sum = 0;
  double excess = 0;  // sum - units * mean score of all seeds of both treatments
};

enum class RankStatus {
  compared,
  nothing_emerged,  // or all in one set: every score is the same
  units_unknown,    // some sowing without units sown: those not up can't be ranked
};

struct GroupedRankTest {
  RankStatus status = RankStatus::nothing_emerged;
  double u = 0;         // sum of the treatment's excesses: above 0, earlier or more of them up
  double variance = 0;  // of u over permutations of single seeds
  double z = 0;         // u / sqrt(variance)
  double p_seeds = 1;   // normal, two-sided: takes seeds of a sowing as independent, so never alone
  // By permuting whole sowings between the two treatments, two-sided by |u|, as randomisation_test
  // on the excesses does (which also knows of blocks).
  double p_sowings = 1;
  double smallest_p = 1;  // the least p_sowings that this number of sowings can give
  double arrangements = 1;
  bool exact = true;
  std::vector<SowingScore> sowings;  // treatment's, then against's
};

// Throws std::domain_error for a bad course or a side without sowings.
GroupedRankTest grouped_rank_test(std::span<const TimeCourse> treatment,
                                  std::span<const TimeCourse> against, RankScores kind,
                                  std::uint64_t seed = default_seed);

}  // namespace plumule::stats
