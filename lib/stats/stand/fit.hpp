// The additive logit of a stand, strata and treatments both fixed, at given weights of the cells:
// the part of the model of the stand that knows nothing of rho.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "stats/stand/layout.hpp"

namespace plumule::stats {

// logit p = stratum + treatment. Newton's steps with the strata eliminated: what is solved is as
// large as the number of treatments. Each solve starts from the last one, so that a walk along rho
// takes a step or two at each point. Holds a reference to the layout, which must outlive it.
class StandFit {
 public:
  explicit StandFit(const StandLayout& layout);

  // The quasi-likelihood equations (Wedderburn 1974, Biometrika 61:439) with Firth's penalty (1993,
  // Biometrika 80:27), half the log-determinant of the information: finite for cells all up, cells
  // with nothing up and lone units. weight[c]: what a cell is worth in independent seeds, > 0;
  // up[c]: its part that is up, 0 .. weight[c]. To 1e-7 of a logit.
  void penalised(std::span<const double> weight, std::span<const double> up);
  // Without the penalty; a cell whose estimate is 0 or 1 comes within 1e-9 of it.
  void plain(std::span<const double> weight, std::span<const double> up);

  double fraction(std::size_t cell) const { return p_[cell]; }
  double missing(std::size_t cell) const { return q_[cell]; }     // 1 - fraction, with its digits
  double leverage(std::size_t cell) const { return hat_[cell]; }  // of its units together
  // Of the penalised fit: log |X'WX|, W = weight p (1 - p), and log |X' weight X|.
  double log_information() const { return log_determinant_; }
  double log_weights() const { return log_weights_; }

  // Standardised means of the treatments (0 without units), and with `covariance`, treatments by
  // treatments, that of these by the delta method (penalised only).
  void means(std::span<double> mean) const;
  void means(std::span<double> mean, std::span<double> covariance);

 private:
  void spread_out();                                 // fractions from strata and treatments
  void invert(std::span<const double> information);  // by cell
  void find_leverages();                             // after invert
  double step(std::span<const double> score, std::span<const double> information);

  const StandLayout& layout_;
  std::vector<std::size_t> row_;  // of each treatment in what is solved; none: `none`
  std::size_t rows_ = 0;
  std::vector<double> stratum_, treatment_;  // the logit's parts
  std::vector<double> p_, q_, hat_, information_, score_, heavier_;
  std::vector<double> whole_;           // information of each stratum
  std::vector<double> root_, inverse_;  // of the treatments' information, rows by rows
  std::vector<double> work_, turn_, shift_, slope_, by_stratum_;  // room to reckon in
  double log_determinant_ = 0, log_weights_ = 0;
};

}  // namespace plumule::stats
