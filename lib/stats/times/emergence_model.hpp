// The emergence model: a germinable fraction, and a distribution of time for those that will come
// up, by maximum likelihood from counts between looks.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/times/time_course.hpp"
#include "stats/times/time_distribution.hpp"

namespace plumule::stats {

// A unit up in (L, R] has probability pi (F(R) - F(L)), one not up by L 1 - pi F(L), one that never
// will 1 - pi. Berkson & Gage 1952 (cure fraction); Burridge 1981 (grouped location-scale).
enum class ModelStatus {
  fitted,
  nothing_emerged,  // no time can be told; only that few if any are germinable
  single_count,     // one look a sowing: the share by then is all that is known
  one_interval,     // all came up within one interval: t50 lies in it, its spread is unknown
  two_intervals,    // two separate times only: t50 is bracketed, its spread is unknown
  not_converged,    // figures are the best found and not to be relied on
};

// se: from the Hessian, in the natural unit, seeds taken as independent. se_clustered: by sowing,
// the sum of products of the sowings' scores times k/(k - 1). lower, upper: 95 % (or the level
// asked), Student t with sowings - 1 df on se_clustered where there are two sowings or more (with
// the treatments' df in a joint fit), else normal on se; none where the sowings agree to a seed
// (se_clustered under a hundredth of se), which gives nothing to go by; on the log scale for times
// and shapes, on the logit scale for fractions. All none where the estimate is on a boundary or not
// identified.
struct Estimate {
  double estimate = 0;
  std::optional<double> se;
  std::optional<double> se_clustered;
  std::optional<double> lower;
  std::optional<double> upper;
};

struct EmergenceModel {
  ModelStatus status = ModelStatus::nothing_emerged;
  TimeDistribution distribution;  // of the germinable; family, shape, scale, lag as estimated
  int parameters = 0;             // estimated ones
  double loglik = 0;              // without the multinomial coefficient
  double aic = 0;                 // 2 parameters - 2 loglik
  // Pearson chi-square over the sowings' intervals, neighbours pooled to an expected count of 1,
  // over its df and at least 1 (Burnham & Anderson 2002, section 2.5); qaic = -2 loglik /
  // dispersion + 2 (parameters + 1). None for fewer than two sowings, or no df.
  std::optional<double> dispersion;
  std::optional<double> qaic;

  Estimate fraction;  // germinable; 1 without errors where fraction_at_one, held at 1 or of_emerged
  Estimate shape;
  Estimate scale;
  Estimate t10, t25, t50, t75, t90;  // days, of the germinable
  Estimate up_by_last_look;          // fraction of the sown up by the last look, as modelled
  Estimate lag;                      // only where asked for and above 0

  bool of_emerged = false;  // units sown unknown: only those that emerged, fraction says nothing
  bool fraction_at_one = false;  // maximum on the boundary: refitted with fraction 1
  // One-sided 95 % profile bound where fraction_at_one: the least pi with 2 (l_max - l(pi))
  // <= 2.706 (Self & Liang 1987). None where all is known of every unit's coming up is nothing.
  std::optional<double> fraction_least;
  double share_seen = 0;  // F(T) of the germinable at the last look
  // share_seen < 0.95, or something came up at the last look: the fraction may still move.
  bool fraction_unsettled = false;

  // Where the status is none of fitted and not_converged: fraction and up_by_last_look are the
  // share up by the last look, the other estimates are 0, no errors; and the set of the
  // nonparametric estimate that holds t50 of those that came up is (t50_after, t50_by].
  std::optional<double> t50_after;
  std::optional<double> t50_by;

  int sowings = 0;
  int steps = 0;  // Newton steps taken
};

struct ModelOptions {
  std::optional<TimeFamily> family;  // none: least AIC (QAIC with two sowings or more) of all four
  bool lag = false;                  // estimate a lag too
  bool fraction_fixed_at_one = false;
  double level = 0.95;  // of the intervals, in (0, 1)
};

// Throws std::domain_error for a bad course or level, and for a fraction held at 1 where some units
// are known never to come up; any data of good form have an answer.
EmergenceModel fit_emergence(std::span<const TimeCourse> sowings, const ModelOptions& options = {});

// All families asked for (one, or four), best first.
std::vector<EmergenceModel> fit_families(std::span<const TimeCourse> sowings,
                                         const ModelOptions& options = {});

}  // namespace plumule::stats
