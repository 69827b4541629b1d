// The additive logit of a stand, strata and treatments both fixed, at given weights of the cells:
// the part of the model of the stand that knows nothing of rho.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "stats/stand/layout.hpp"

namespace plumule::stats {

// logit p = stratum + treatment. In one stratum every cell is fitted by itself, in closed form.
// Else Newton's steps with the strata eliminated: what is solved is as large as the number of
// treatments. Each solve starts from the last one, or where start_at() puts it. Holds a reference
// to the layout, which must outlive it.
class StandFit {
 public:
  explicit StandFit(const StandLayout& layout);

  // The quasi-likelihood equations (Wedderburn 1974, Biometrika 61:439) with Firth's penalty (1993,
  // Biometrika 80:27), half the log-determinant of the information: finite for cells all up, cells
  // with nothing up and lone units. weight[c]: what a cell is worth in independent seeds, > 0;
  // up[c]: its part that is up, 0 .. weight[c]. To 1e-7 of a logit. Where one seed ties what
  // whole trays contradict there may be two summits; it climbs the one above its start.
  void penalised(std::span<const double> weight, std::span<const double> up);
  // Without the penalty; a cell whose estimate is 0 or 1 comes within 1e-9 of it.
  void plain(std::span<const double> weight, std::span<const double> up);

  std::span<const double> fractions() const { return p_; }  // of each cell
  std::span<const double> missing() const { return q_; }    // 1 - these, with their digits
  double fraction(std::size_t cell) const { return p_[cell]; }
  double missing(std::size_t cell) const { return q_[cell]; }
  double leverage(std::size_t cell) const { return hat_[cell]; }  // of its units together
  // Of the penalised fit: log |X'WX|, W = weight p (1 - p), and log |X' weight X|.
  double log_information() const { return log_information_; }
  double log_weights() const { return log_weights_; }

  // For a walk along any x that weights go with smoothly: keeps what was solved last, and starts
  // the next solve from the polynomial through the five of these that are nearest.
  void keep(double x);
  void start_at(double x);

  // Standardised means of the treatments (0 without units), and with `covariance`, treatments by
  // treatments, that of these by the delta method (penalised only).
  void means(std::span<double> mean) const;
  void means(std::span<double> mean, std::span<double> covariance);

 private:
  void fit_alone(std::span<const double> weight, std::span<const double> up, double seeds);
  double penalised_likelihood(std::span<const double> weight, std::span<const double> up) const;
  void start_anew();                                 // all logits 0
  void go_back_halfway();                            // to before_
  void spread_out();                                 // fractions from strata and treatments
  void factor(std::span<const double> information);  // by cell
  double log_determinant() const;                    // of what was factored last
  void invert();                                     // what was factored last
  void find_leverages();                             // after invert
  // By what was factored last, no logit by more than `most`; the longest change asked for.
  double step(std::span<const double> score, double most);
  void solve(std::size_t first);  // work_, 0 before its first

  template <class With>
  void each_treatment(std::size_t stratum, With&& with) const;

  struct Kept {
    double x;
    std::vector<double> parts;
  };
  double logit(std::size_t stratum, std::size_t treatment) const {
    return parts_[stratum] + parts_[layout_.strata() + treatment];
  }

  const StandLayout& layout_;
  std::vector<std::size_t> row_;  // of each treatment in what is solved; none: `none`
  std::vector<std::size_t> row_of_cell_;
  std::vector<std::size_t> first_row_;  // of each stratum: its first cell that has one
  std::size_t rows_ = 0;
  std::vector<double> parts_, before_;  // of the logit: the strata's, then the treatments'
  std::vector<Kept> kept_;              // x ascends
  std::vector<double> p_, q_, hat_, information_, score_;
  std::vector<double> whole_, part_;    // information of each stratum, and of it each cell's part
  std::vector<double> root_, inverse_;  // of the treatments' information, rows by rows
  std::vector<double> work_, slope_, among_, by_stratum_, by_treatment_;  // room to reckon in
  bool restless_ = false;  // a solve swung: from then on each starts from 0 and climbs all the way
  double log_information_ = 0, log_weights_ = 0;
};

}  // namespace plumule::stats
