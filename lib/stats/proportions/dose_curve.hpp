// A logistic dose curve by maximum likelihood, straight or with a quadratic term, and the best dose
// where the data show a peak: soaking too long shows as a rise and a fall.
#pragma once

#include <span>
#include <vector>

#include "stats/inference/fieller.hpp"
#include "stats/proportions/trend.hpp"

namespace plumule::stats {

enum class CurveStatus {
  ok,
  too_few_doses,  // a line needs two distinct doses, a quadratic three
  separated,      // nothing up, everything up, or a dose that parts them: no finite estimate
  not_converged
};

struct DoseCurve {
  CurveStatus status = CurveStatus::too_few_doses;
  // Of 1, dose, dose^2 in the log odds; with several strata the first is the mean of their heights,
  // weighed by seeds.
  std::vector<double> coefficients;
  std::vector<double> covariance;  // row by row, times the dispersion
  double log_likelihood = 0;       // without binomial coefficients
  double pearson = 0;              // Pearson's chi-squared over the sowings
  double df = 0;                   // sowings less what is fitted
  double dispersion = 1;           // max(1, pearson / df); 1 where df = 0
  double deviate = 0;              // of `level`, two-sided: Student's t on df; normal where df = 0
  int iterations = 0;

  double se(std::size_t i) const;  // NaN where there is none
  double at(double dose) const;    // fitted fraction
};

// One group a sowing (trays of one dose are not pooled, so that their spread is seen). Degree 1 to
// 6, else std::domain_error; also for a dose that is not finite or a level outside (0, 1). Newton's
// method on the dose scaled to [-1, 1]; quasi-likelihood standard errors.
DoseCurve fit_dose_curve(std::span<const DoseGroup> sowings, int degree = 2, double level = 0.95);

enum class BestDoseStatus {
  peak,           // the quadratic term is negative, with its interval, and the peak was passed
  no_peak,        // it is not: no best dose within what was tried
  outside_tried,  // it is, but the peak lies at or beyond the doses tried
  no_curve        // the curve could not be fitted
};

struct BestDose {
  BestDoseStatus status = BestDoseStatus::no_curve;
  double dose = 0;                                     // -b1/(2 b2); with `peak` only to be shown
  FiellerSet interval{FiellerKind::everything, 0, 0};  // may reach beyond the doses tried
  double fraction = 0;                                 // fitted at the peak
};

BestDose best_dose(std::span<const DoseGroup> sowings, double level = 0.95);

// The p of the quadratic against a curve through every dose tried (up to degree 6): the likelihood
// ratio over the dispersion of that curve, by chi-squared. Where it is small the doses lie on no
// parabola, and its peak is none. 1 with three doses, or where either cannot be fitted.
double lack_of_fit_p(std::span<const DoseGroup> sowings);

}  // namespace plumule::stats
