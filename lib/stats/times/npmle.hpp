// The nonparametric maximum likelihood estimate of emergence times known only to lie between two
// looks, with units that never come up (Turnbull 1976, J. R. Stat. Soc. B 38:290-295).
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/times/time_course.hpp"

namespace plumule::stats {

// Mass that the estimate puts after `left` and no later than `right` days; where inside is unknown.
// right infinite: not up by left (later, or never); left infinite too: all of it known never to
// come up. The masses sum to 1.
struct MassPoint {
  double left = 0;
  double right = 0;
  double mass = 0;
};

enum class NpmleStatus {
  fitted,         // KKT gap at most 1e-8
  no_data,        // no units at all: no points
  not_converged,  // best masses found; see kkt_gap
};

struct Npmle {
  NpmleStatus status = NpmleStatus::no_data;
  std::vector<MassPoint> points;  // masses above 0 only, in order of time
  double units = 0;               // what the masses are fractions of
  double emerged_mass = 0;        // sum of the masses with a finite right end
  double loglik = 0;              // sum count log(probability of its span)
  // Largest mean derivative of the log likelihood towards any one set, less 1: 0 at the maximum,
  // and units times it bounds what log likelihood could still be gained.
  double kkt_gap = 0;
  bool closed_form = false;  // no span overlaps another's sets: masses are plain shares
};

// Spans in any order, any mix of schedules, counts may be fractional. Throws std::domain_error for
// spans that merged() refuses.
Npmle npmle(std::span<const Span> spans);

struct Between {
  double lower = 0;
  double upper = 0;
};

// Fraction up by `day`: at least the mass of sets that end by then, at most that of those that
// begin before it. Throws std::domain_error for a NaN or negative day, or an estimate of no data.
Between fraction_up_by(const Npmle& estimate, double day);

// The set in which the share p of all units (0 < p < 1) is reached: the first with cumulative mass
// >= p (less 1e-9); none where that share was not up by the last look. Throws std::domain_error for
// p outside (0, 1).
std::optional<MassPoint> time_of_sown(const Npmle& estimate, double p);

// The same of the units that emerged by the last look (0 < p < 1); none where nothing emerged.
std::optional<MassPoint> time_of_emerged(const Npmle& estimate, double p);

// Mean days of those that emerged: all mass at the left ends, and all at the right ends; none where
// nothing emerged.
std::optional<Between> mean_days(const Npmle& estimate);

}  // namespace plumule::stats
