// Newton's method for a log likelihood with analytic gradient and Hessian, kept safe: ridged where
// the Hessian is not negative definite, halved where the likelihood would fall. Boost.Math seeks
// maxima in one variable only.
#pragma once

#include <Eigen/Dense>
#include <cmath>

#include "stats/numeric/small_cholesky.hpp"

namespace plumule::stats {

// size: the number of parameters, or Eigen::Dynamic.
template <int size>
struct NewtonPoint {
  Eigen::Matrix<double, size, 1> x;
  double value = -HUGE_VAL;
  Eigen::Matrix<double, size, 1> gradient;
  Eigen::Matrix<double, size, size> hessian;
};

enum class NewtonEnd {
  converged,  // the next step would gain less than 1e-13 of log likelihood
  stopped,    // the caller's stop(x) held
  stuck       // no step gains, or 100 steps were not enough
};

template <int size>
struct NewtonResult {
  NewtonPoint<size> point;
  Eigen::Matrix<double, size, size> inverse;  // of minus the Hessian; set where converged
  NewtonEnd end = NewtonEnd::stuck;
  int steps = 0;
};

// evaluate(point) fills value, gradient and hessian for point.x (value -infinity where x is not
// allowed); stop(x) ends the search. `longest` bounds a step in every coordinate.
template <int size, class Evaluate, class Stop>
NewtonResult<size> newton_maximise(const Eigen::Matrix<double, size, 1>& start, Evaluate&& evaluate,
                                   Stop&& stop, double longest = 4) {
  using Square = Eigen::Matrix<double, size, size>;
  NewtonResult<size> result;
  NewtonPoint<size>& here = result.point;
  here.x = start;
  evaluate(here);
  const auto n = start.size();
  NewtonPoint<size> there;
  SmallCholesky<size> factor;
  while (std::isfinite(here.value) && result.steps < 100) {
    if (stop(here.x)) {
      result.end = NewtonEnd::stopped;
      return result;
    }
    const Square information = -here.hessian;
    double ridge = 0;
    for (Square ridged = information; !factor.factor(ridged);) {
      ridge = ridge > 0 ? ridge * 4 : 0.01;
      if (!(ridge < 1e10)) return result;
      ridged = information;
      for (Eigen::Index i = 0; i < n; ++i)
        ridged(i, i) += ridge * (std::fabs(information(i, i)) + 1e-6);
    }
    Eigen::Matrix<double, size, 1> step = factor.solve(here.gradient);
    const double gain = step.dot(here.gradient);
    if (!std::isfinite(gain)) return result;
    if (ridge == 0 && gain < 1e-13) {
      result.inverse = factor.inverse(static_cast<int>(n));
      result.end = NewtonEnd::converged;
      return result;
    }
    const double reach = step.cwiseAbs().maxCoeff();
    double length = reach > longest ? longest / reach : 1;
    bool moved = false;
    for (int halvings = 0; halvings < 50; ++halvings, length /= 2) {
      there.x = here.x + length * step;
      evaluate(there);
      if (there.value >= here.value + 1e-4 * length * gain - 1e-12 * (1 + std::fabs(here.value))) {
        moved = true;
        break;
      }
    }
    if (!moved) {
      // What is left to gain is less than the rounding of the likelihood.
      if (ridge == 0 && gain < 1e-8) {
        result.inverse = factor.inverse(static_cast<int>(n));
        result.end = NewtonEnd::converged;
      }
      return result;
    }
    here = there;
    ++result.steps;
  }
  return result;
}

}  // namespace plumule::stats
