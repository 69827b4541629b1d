// One model of the final stand for every layout: from it come each treatment's mean and range, and
// (stand/contrast.hpp) every difference, its range, its chances and the claims on it.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "stats/inference/interval.hpp"
#include "stats/stand/layout.hpp"
#include "stats/stand/walk.hpp"
#include "stats/trays/rho_prior.hpp"

namespace plumule::stats {

// Unit i has n_i seeds, of which the fraction y_i is up; treatment t, stratum b:
//   logit p_i = mu_b + tau_t, both fixed;
//   var y_i = p_i (1 - p_i) f_i / n_i, f_i = 1 + (n_i - 1) rho, one rho for all.
//
// Given rho: quasi-likelihood (Wedderburn 1974) at weights n_i / f_i, without a penalty and with
// Firth's (1993). Of each treatment the standardised mean m_t = sum of share_b p_bt
// (StandLayout::share), by the fit without; its angle is that of (N m_t + 1/2) / (N + 1), N the
// independent seeds that would know it as well. Angles arcsin sqrt are taken as normal with the
// delta covariance, slopes at these angles and the means' covariance from the penalised fit. (In
// one stratum the angle is Firth's own; in many small ones his difference of logits is too large,
// as is the plain one.)
//
// rho is weighed twice, and whatever is told of the stand must hold by both weighings:
//   by this trial: -1/2 [sum log f_i + X^2 + L], prior (1 - rho) (rho + c / n~)^-0.8,
//     c = min(1, 1.5 / df), n~ the harmonic mean of the n_i: with many seeds about a t on df, never
//     narrower than independent seeds;
//   by trays at large: the beta-binomial log-likelihood at p_i, less L / 2, prior Beta(1, B).
//     With df under 1 this trial says nothing of rho, so both are this one (and nothing is
//     claimed). (A rho that is fixed: both weighings are that value.)
// X^2 is the larger of Pearson's chi-squared sum n_i (y_i - p_i)^2 / (v_i f_i) with v_i =
// p_i (1 - p_i), and with v_i averaged over its treatment. L is in one stratum the log-determinant
// of the information, else log |X' weight X|. (In many small strata Pearson's own makes light of
// the spread, and the information would draw rho down: with both, 4 to 8 pairs at stands of 0.9
// erred in 9 to 12 % at rho 0.1.)
//
// Both are integrated over x = log(1 + n~ rho) by Clenshaw and Curtis's rule, its points doubled
// until both masses and means of x change by less than 1 in 100, those between two without density
// left out: every end and chance is then within 1e-5 of what 512 points give. Some 0.03 ms for 4
// and 4 trays, 0.3 ms for 48 trays of six treatments in eight blocks.
class StandModel {
 public:
  // Throws std::domain_error for counts, treatments or a prior that cannot be. Any trial will do:
  // cells empty, all up or with nothing up, lone units, one seed a unit.
  StandModel(std::span<const PlacedUnit> units, int treatments, const RhoPrior& prior);

  const StandLayout& layout() const { return layout_; }
  double df() const { return layout_.df; }
  // Means of rho under the two weighings.
  double rho_by_trial() const;
  double rho_at_large() const;

  // The standardised mean without the penalty, averaged over rho by this trial: with equal trays in
  // whole strata the plain mean of the trays. `treatment` must have units.
  double mean(int treatment) const;
  // Its range: the lower of both weighings' lower ends to the higher of their upper ones, each
  // equal-tailed. An end that would leave the mean out stands at it. Method standardised.
  Interval range(int treatment, double level = 0.95) const;

  // How far the units of a treatment are spread about the model: Pearson's chi-squared at the mean
  // of x by this trial, and what it is held against, its units less their leverage.
  struct Spread {
    double pearson = 0, df = 0;
  };
  Spread spread(int treatment) const;

  const std::vector<StandNode>& nodes() const { return nodes_; }  // shares add up to 1

 private:
  void estimate();
  std::size_t checked(int treatment) const;

  StandLayout layout_;
  std::vector<StandNode> nodes_;
  std::vector<double> mean_;
  std::vector<Spread> spread_;
};

}  // namespace plumule::stats
