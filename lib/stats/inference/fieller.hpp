// Fieller's set for a ratio of two estimates that err together: an interval, or something wider.
#pragma once

#include "stats/inference/interval.hpp"

namespace plumule::stats {

enum class FiellerKind {
  bounded,    // lower to upper
  two_rays,   // everything up to `lower` and everything from `upper` on
  everything  // no value is excluded
};

struct FiellerSet {
  FiellerKind kind;
  double lower;  // -infinity with `everything`
  double upper;  // +infinity with `everything`
};

// For numerator/denominator with variances and covariance, and the deviate `t` (two-sided):
// all r with (numerator - r denominator)^2 <= t^2 var(numerator - r denominator). Fieller 1954.
FiellerSet fieller(double numerator, double denominator, double var_numerator,
                   double var_denominator, double covariance, double t);

}  // namespace plumule::stats
