// What the counts of two treatments say of their final stand: chances by the posterior, the t on
// the units, the Bayes factor. Numbers only; claims.hpp has the rule that weighs them.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/inference/t_test.hpp"
#include "stats/trays/rho_prior.hpp"
#include "stats/trays/tray_aware_difference.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// One experimental unit: the sowings whose seed was treated together (usually one). Its fraction is
// the unweighted mean of its sowings' fractions; in the posterior its seeds count as one sowing.
struct StandUnit {
  std::vector<TrayCount> sowings;
  int source = 0;  // the seed lot and trial it is of
};

double unit_fraction(const StandUnit& unit);  // throws std::domain_error without sowings or seed
std::vector<double> unit_fractions(std::span<const StandUnit> units);
TrayCount unit_count(const StandUnit& unit);  // all its sowings together

// What the t compares: all units, or only those of one seed lot and trial, or of one block.
enum class Within { nothing, sources, blocks };

// Of p1 - p2, the first fraction less the second; d is the smallest difference worth having.
struct PosteriorChances {
  double better = 0;      // P(p1 > p2)
  double worth = 0;       // P(p1 - p2 > d)
  double worth_less = 0;  // P(p2 - p1 > d)
  double within = 0;      // P(|p1 - p2| < d)
};

struct StandEvidence {
  int units = 0;       // of the first treatment
  int against = 0;     // of the second
  double worth = 0.1;  // d
  bool after_looking = false;
  Within within = Within::nothing;
  TTest t;  // on unit fractions, its interval at 90 %
  std::optional<PosteriorChances>
      chances;  // none within blocks, of which the posterior knows nothing
  // After looking; else only where the units do not vary at all and the posterior is sure of a
  // sign, as no other rule needs it.
  std::optional<double> bayes_factor;
  std::optional<double> lots_p;  // within blocks only: of drawing lots anew

  // Of the t; none where it has no variance or no degrees of freedom to go by.
  std::optional<double> t_p() const;
};

// The first treatment is asked about, the second is what it is held against; 0 < d <= 1.
// `after_looking`: the trial was closed by hand, or sowings were added, with the counts in sight.
// Where the treatments lie unevenly over sources the posterior pools what a seed lot does with what
// the treatment does, so the t is the one within sources. Without units of either: no chances.
// Throws std::domain_error for counts, prior or d that cannot be.
StandEvidence stand_evidence(std::span<const StandUnit> first, std::span<const StandUnit> second,
                             const RhoPrior& prior, double d = 0.10, bool after_looking = false);
// The same from a posterior of these units that is at hand already (unit_count of each, in order).
StandEvidence stand_evidence(std::span<const StandUnit> first, std::span<const StandUnit> second,
                             const TrayAwareDifference& posterior, double d = 0.10,
                             bool after_looking = false);

}  // namespace plumule::stats
