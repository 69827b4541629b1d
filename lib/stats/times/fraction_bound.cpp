#include "stats/times/fraction_bound.hpp"

#include <cmath>

namespace plumule::stats {

std::optional<double> least_fraction(std::span<const Span> spans, TimeFamily family,
                                     const EmergenceMaximum& maximum) {
  constexpr double drop = 2.706 / 2;
  GroupedLikelihood likelihood(spans, time_unit(spans), maximum.lag);
  const double target = maximum.loglik - drop;
  // Walk down the logit from near 1, each maximum a start for the next, until below the target.
  double above = 15;
  HeldFraction last{maximum.point, maximum.loglik, 0, true};
  HeldFraction next;
  double below = above;
  for (double step = 0.5;; step *= 1.5) {
    below = above - step;
    if (below < -40) return std::nullopt;
    WorkingPoint start = last.point;
    start.a = below;
    next = maximise_times(likelihood, family, start);
    if (!next.converged) return std::nullopt;
    if (next.loglik < target) break;
    above = below;
    last = next;
  }
  // The slope of the profile is the partial slope, so Newton's step is at hand; halve where it
  // leaves the bracket.
  double a = below;
  for (int i = 0; i < 100 && above - below > 1e-12 * (1 + std::fabs(a)); ++i) {
    const double excess = next.loglik - target;
    if (std::fabs(excess) < 1e-11) break;
    (excess < 0 ? below : above) = a;
    double to = a - excess / next.slope;
    if (!(to > below && to < above)) to = (below + above) / 2;
    WorkingPoint start = next.point;
    start.a = a = to;
    next = maximise_times(likelihood, family, start);
    if (!next.converged) return std::nullopt;
  }
  return 1 / (1 + std::exp(-a));
}

}  // namespace plumule::stats
