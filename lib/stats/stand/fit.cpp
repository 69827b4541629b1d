// With strata eliminated the treatments' information is a sum over strata of W_s W_t / W between
// each two treatments: built from these positive terms alone, so nothing cancels.
#include "stats/stand/fit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace plumule::stats {
namespace {

constexpr std::size_t none = std::numeric_limits<std::size_t>::max();
constexpr double close_enough = 2e-6, longest_step = 4, no_seed = 1e-9;
constexpr int most_steps = 60;

double logistic(double eta) { return 1 / (1 + std::exp(-eta)); }

}  // namespace

StandFit::StandFit(const StandLayout& layout)
    : layout_(layout), row_(layout.treatments(), none), treatment_(layout.treatments()) {
  // The first treatment of those tied together is what the others are held against.
  for (std::size_t t = 0; t < layout.treatments(); ++t) {
    if (layout.tied[t] < 0) continue;
    const auto first = std::find(layout.tied.begin(), layout.tied.end(), layout.tied[t]);
    if (static_cast<std::size_t>(first - layout.tied.begin()) != t) row_[t] = rows_++;
  }
  for (auto* values : {&p_, &q_, &hat_, &information_, &score_, &heavier_})
    values->assign(layout.cells.size(), 0);
  stratum_.assign(layout.strata(), 0);
  whole_.assign(layout.strata(), 0);
  inverse_.assign(rows_ * rows_, 0);
  root_.assign(rows_ * rows_, 0);
  for (auto* values : {&work_, &turn_}) values->assign(rows_, 0);
  shift_.assign(layout.strata(), 0);
  slope_.assign(layout.treatments() * rows_, 0);
  by_stratum_.assign(layout.treatments(), 0);
  spread_out();
}

void StandFit::spread_out() {
  for (std::size_t c = 0; c < p_.size(); ++c) {
    const auto& cell = layout_.cells[c];
    const double eta = stratum_[cell.stratum] + treatment_[cell.treatment];
    const double odds = std::exp(-std::fabs(eta)), rarer = odds / (1 + odds),
                 other = 1 / (1 + odds);
    p_[c] = eta < 0 ? rarer : other;
    q_[c] = eta < 0 ? other : rarer;
  }
}

// Cholesky's factor, and from it the inverse.
void StandFit::invert(std::span<const double> information) {
  log_determinant_ = 0;
  std::fill(root_.begin(), root_.end(), 0.0);
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    const std::size_t from = layout_.first_cell[b], to = layout_.first_cell[b + 1];
    whole_[b] = 0;
    for (std::size_t c = from; c < to; ++c) whole_[b] += information[c];
    log_determinant_ += std::log(whole_[b]);
    for (std::size_t c = from; c < to; ++c)
      for (std::size_t e = from; e < c; ++e) {
        const double both = information[c] * information[e] / whole_[b];
        const std::size_t i = row_[layout_.cells[c].treatment],
                          j = row_[layout_.cells[e].treatment];
        if (i != none) root_[i * rows_ + i] += both;
        if (j != none) root_[j * rows_ + j] += both;
        if (i != none && j != none) root_[i * rows_ + j] -= both;  // i > j: treatments ascend
      }
  }
  for (std::size_t i = 0; i < rows_; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = root_[i * rows_ + j];
      for (std::size_t k = 0; k < j; ++k) sum -= root_[i * rows_ + k] * root_[j * rows_ + k];
      root_[i * rows_ + j] = i == j ? std::sqrt(std::max(sum, 1e-300)) : sum / root_[j * rows_ + j];
      if (i == j) log_determinant_ += 2 * std::log(root_[i * rows_ + i]);
    }
  for (std::size_t column = 0; column < rows_; ++column) {
    for (std::size_t i = column; i < rows_; ++i) {
      double sum = i == column ? 1 : 0;
      for (std::size_t k = column; k < i; ++k) sum -= root_[i * rows_ + k] * work_[k];
      work_[i] = sum / root_[i * rows_ + i];
    }
    for (std::size_t i = rows_; i-- > column;) {
      double sum = work_[i];
      for (std::size_t k = i + 1; k < rows_; ++k) sum -= root_[k * rows_ + i] * work_[k];
      work_[i] = sum / root_[i * rows_ + i];
      inverse_[i * rows_ + column] = inverse_[column * rows_ + i] = work_[i];
    }
  }
}

// h = W (1/whole + (e - u)' V (e - u)), u the stratum's shares of information.
void StandFit::find_leverages() {
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    const std::size_t from = layout_.first_cell[b], to = layout_.first_cell[b + 1];
    double among = 0;  // u' V u
    for (std::size_t c = from; c < to; ++c) {
      const std::size_t i = row_[layout_.cells[c].treatment];
      double to_u = 0;  // (V u) of this treatment
      for (std::size_t e = from; i != none && e < to; ++e)
        if (const std::size_t j = row_[layout_.cells[e].treatment]; j != none)
          to_u += inverse_[i * rows_ + j] * information_[e] / whole_[b];
      among += information_[c] / whole_[b] * to_u;
      hat_[c] = (i == none ? 0 : inverse_[i * rows_ + i]) - 2 * to_u;
    }
    for (std::size_t c = from; c < to; ++c)
      hat_[c] = std::clamp(information_[c] * (1 / whole_[b] + hat_[c] + among), 0.0, 1.0);
  }
}

// One step of Newton's; `information` is what was inverted last. The longest change.
double StandFit::step(std::span<const double> score, std::span<const double> information) {
  std::fill(work_.begin(), work_.end(), 0.0);
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    const std::size_t from = layout_.first_cell[b], to = layout_.first_cell[b + 1];
    double sum = 0;
    for (std::size_t c = from; c < to; ++c) sum += score[c];
    for (std::size_t c = from; c < to; ++c)
      if (const std::size_t i = row_[layout_.cells[c].treatment]; i != none)
        work_[i] += score[c] - information[c] / whole_[b] * sum;
  }
  double longest = 0;
  for (std::size_t i = 0; i < rows_; ++i) {
    turn_[i] = 0;
    for (std::size_t j = 0; j < rows_; ++j) turn_[i] += inverse_[i * rows_ + j] * work_[j];
    longest = std::max(longest, std::fabs(turn_[i]));
  }
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    double sum = 0;
    for (std::size_t c = layout_.first_cell[b]; c < layout_.first_cell[b + 1]; ++c) {
      sum += score[c];
      if (const std::size_t i = row_[layout_.cells[c].treatment]; i != none)
        sum -= information[c] * turn_[i];
    }
    shift_[b] = sum / whole_[b];
    longest = std::max(longest, std::fabs(shift_[b]));
  }
  const double part = longest > longest_step ? longest_step / longest : 1;
  for (std::size_t b = 0; b < whole_.size(); ++b) stratum_[b] += part * shift_[b];
  for (std::size_t t = 0; t < row_.size(); ++t)
    if (row_[t] != none) treatment_[t] += part * turn_[row_[t]];
  spread_out();
  return longest;
}

// The penalty acts as h seeds more in each cell, half of them up; h is brought up to date at each
// step (the pseudo-data of Kosmidis & Firth 2009, Biometrika 96:793).
void StandFit::penalised(std::span<const double> weight, std::span<const double> up) {
  invert(weight);
  log_weights_ = log_determinant_;
  double longest = HUGE_VAL;
  for (int i = 0; i <= most_steps; ++i) {
    for (std::size_t c = 0; c < p_.size(); ++c) information_[c] = weight[c] * p_[c] * q_[c];
    invert(information_);
    find_leverages();
    if (longest < close_enough) return;
    for (std::size_t c = 0; c < p_.size(); ++c) {
      score_[c] = up[c] * q_[c] - (weight[c] - up[c]) * p_[c] + hat_[c] * (q_[c] - p_[c]) / 2;
      heavier_[c] = (weight[c] + hat_[c]) * p_[c] * q_[c];
    }
    invert(heavier_);
    longest = step(score_, heavier_);
  }
}

void StandFit::plain(std::span<const double> weight, std::span<const double> up) {
  for (int i = 0; i < most_steps; ++i) {
    for (std::size_t c = 0; c < p_.size(); ++c) {
      score_[c] = up[c] * q_[c] - (weight[c] - up[c]) * p_[c] + no_seed * (q_[c] - p_[c]) / 2;
      information_[c] = (weight[c] + no_seed) * p_[c] * q_[c];
    }
    invert(information_);
    if (step(score_, information_) < close_enough) return;
  }
}

void StandFit::means(std::span<double> mean) const {
  std::fill(mean.begin(), mean.end(), 0.0);
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    if (layout_.share[b] == 0) continue;
    const int set = layout_.tied[layout_.cells[layout_.first_cell[b]].treatment];
    for (std::size_t t = 0; t < mean.size(); ++t)
      if (layout_.tied[t] == set)
        mean[t] += layout_.share[b] * logistic(stratum_[b] + treatment_[t]);
  }
}

// By a stratum's logit a mean moves by share p q, by its treatment's by the sum of these. The
// strata's part of the covariance is eliminated like the strata themselves.
void StandFit::means(std::span<double> mean, std::span<double> covariance) {
  const std::size_t all = mean.size();
  std::fill(mean.begin(), mean.end(), 0.0);
  std::fill(covariance.begin(), covariance.end(), 0.0);
  std::fill(slope_.begin(), slope_.end(), 0.0);
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    if (layout_.share[b] == 0) continue;
    const std::size_t from = layout_.first_cell[b], to = layout_.first_cell[b + 1];
    const int set = layout_.tied[layout_.cells[from].treatment];
    for (std::size_t t = 0; t < all; ++t) {
      if (layout_.tied[t] != set) continue;
      const double p = logistic(stratum_[b] + treatment_[t]);
      by_stratum_[t] = layout_.share[b] * p * (1 - p);
      mean[t] += layout_.share[b] * p;
      if (row_[t] != none) slope_[t * rows_ + row_[t]] += by_stratum_[t];
      for (std::size_t c = from; c < to; ++c)
        if (const std::size_t i = row_[layout_.cells[c].treatment]; i != none)
          slope_[t * rows_ + i] -= by_stratum_[t] * information_[c] / whole_[b];
      for (std::size_t s = 0; s <= t; ++s)
        if (layout_.tied[s] == set)
          covariance[t * all + s] += by_stratum_[t] * by_stratum_[s] / whole_[b];
    }
  }
  for (std::size_t t = 0; t < all; ++t) {
    for (std::size_t i = 0; i < rows_; ++i) {
      work_[i] = 0;
      for (std::size_t j = 0; j < rows_; ++j)
        work_[i] += inverse_[i * rows_ + j] * slope_[t * rows_ + j];
    }
    for (std::size_t s = 0; s <= t; ++s) {
      for (std::size_t i = 0; i < rows_; ++i)
        covariance[t * all + s] += work_[i] * slope_[s * rows_ + i];
      covariance[s * all + t] = covariance[t * all + s];
    }
  }
}

}  // namespace plumule::stats
