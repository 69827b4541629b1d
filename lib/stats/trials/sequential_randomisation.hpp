// The one test that may be read any day while a trial is open: the sequentially monitored
// randomisation test, which knows of trays and keeps its error over all looks.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "stats/trials/followed_sowing.hpp"

namespace plumule::stats {

struct SequentialLook {
  int day = 0;
  double share_spent = 0;  // |C| / |Z| after this look: never above 0.05 min(1, day / D)
  double distance = 0;     // |difference of mean scores| of the actual labelling
  bool claimed = false;    // the actual labelling is in C by now
};

enum class SequentialStatus {
  ok,
  one_treatment,  // no block holds both treatments: nothing to re-label
  no_looks        // no day yet on which every sowing had a count
};

struct SequentialRandomisation {
  SequentialStatus status = SequentialStatus::ok;
  bool claimed = false;              // "the treatments are coming up differently"
  std::optional<int> claimed_on;     // the look from which that is said
  bool first_ahead = false;          // at the last look the treated have the larger mean score
  bool can_claim = true;             // false: smallest_p is over alpha, no claim is possible
  double smallest_p = 1;             // the smallest p this layout can give
  std::uint64_t arrangements = 0;    // re-labellings in Z (with the actual one)
  bool exact = true;                 // Z enumerated; false: actual + 99,999 drawn from `seed`
  std::vector<int> blocks_left_out;  // blocks that lack either treatment
  std::vector<SequentialLook> looks;
};

// Score of a sowing at look t: the sum over whole days s <= t of its cumulative fraction, last
// count carried forward (area under its curve). A unit's score is the unweighted mean of its
// sowings'. T = |sum over blocks of (block size / all) (mean score of treated - mean of the
// others)|. Z: all re-labellings of units within blocks, enumerated up to 200,000, else the actual
// one and 99,999 drawn once from `seed`. At each look m = floor(alpha min(1, t / D) |Z|) - |C|;
// labellings not in C are ranked by T and the m largest added, whole groups of ties (1e-9) or none.
// (Lan & DeMets 1983; Plamadeala & Rosenberger 2012.) Looks are those of trial_looks up to `until`.
// `planned_last_day` D >= 1. Sowings should come sorted by code: drawn labellings depend on order.
// Throws std::domain_error for what check_followed refuses, D < 1, alpha outside (0, 1), or one
// unit with sowings in two treatments or two blocks.
SequentialRandomisation sequential_randomisation(std::span<const FollowedSowing> sowings,
                                                 int planned_last_day, int until,
                                                 std::uint64_t seed, double alpha = 0.05);

}  // namespace plumule::stats
