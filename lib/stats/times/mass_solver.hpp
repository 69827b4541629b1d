// Masses on ordered sets that make the counts of overlapping runs of sets most likely: the concave
// problem inside the nonparametric estimate of interval-censored times.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace plumule::stats {

// `weight` units lie somewhere in the sets first..last (inclusive, counted from 0).
struct SetRun {
  std::size_t first = 0;
  std::size_t last = 0;
  double weight = 0;
};

struct Masses {
  std::vector<double> mass;  // one a set, >= 0, sum 1
  double loglik = 0;         // sum weight log(mass of the run)
  double gap = 0;  // max over sets of (1/W) sum weight/(mass of run) over its runs, less 1
  int steps = 0;
  bool converged = false;  // gap <= 1e-8 (1e-12 is aimed at)
};

// Maximises sum weight log(sum of mass over the run) over the simplex: a few steps of EM, then
// constrained Newton steps on the support with sets added where the gradient is highest and dropped
// where a mass reaches 0 (Wang 2007, J. R. Stat. Soc. B 69:185-198; the non-negative quadratic
// problem by Lawson & Hanson's inner loop), each step searched so that the likelihood never falls.
// Every weight > 0, every run within the sets, sets >= 1 (not checked).
Masses solve_masses(std::span<const SetRun> runs, std::size_t sets);

}  // namespace plumule::stats
