// The maximum of the emergence model's likelihood for one family: starts, boundary and lag. The
// figures a reader wants are made from it in emergence_estimates.
#pragma once

#include <array>
#include <cmath>
#include <span>

#include "stats/times/grouped_likelihood.hpp"
#include "stats/times/time_course.hpp"
#include "stats/times/time_distribution.hpp"

namespace plumule::stats {

// covariance: inverse of minus the Hessian over a, u, v and lag (rows and columns of what was not
// estimated are 0), row by row.
struct EmergenceMaximum {
  WorkingPoint point;
  double lag = 0;
  bool whole = false;  // the fraction is 1: on the boundary, or fixed there
  bool converged = false;
  double loglik = -HUGE_VAL;  // where no point with any probability was found
  std::array<double, 16> covariance{};
  int steps = 0;
};

// A unit of time near the middle of the emergences of the spans: the geometric middle of the first
// and last end points that hold them. 1 where nothing emerged.
double time_unit(std::span<const Span> spans);

// Start from the quartiles of the emergences, interpolated between looks.
WorkingPoint starting_point(std::span<const Span> spans, TimeFamily family, double unit,
                            double lag = 0);

// Spans as merged(), of which separate_times() is 3 or more. fixed_whole: two parameters, fraction
// 1. with_lag: a lag too, between 0 and the first right end, found by a profile search and left at
// 0 where that is best or where separate_times() is under 4; its derivatives are numeric.
EmergenceMaximum maximise_emergence(std::span<const Span> spans, TimeFamily family,
                                    bool fixed_whole, bool with_lag);

// The maximum over u and v with the fraction held at expit(a).
struct HeldFraction {
  WorkingPoint point;
  double loglik = 0;
  double slope = 0;  // of loglik in a at the maximum
  bool converged = false;
};
HeldFraction maximise_times(GroupedLikelihood& likelihood, TimeFamily family,
                            const WorkingPoint& start);

}  // namespace plumule::stats
