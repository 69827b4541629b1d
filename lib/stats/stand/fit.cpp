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
constexpr int most_steps = 60, free_steps = 8;
constexpr std::size_t most_used = 5;

// How far the i-th step of the fit without a penalty may go: a swing is damped after thirty.
double allowed(int i) { return longest_step * std::exp2(-std::max(0, i - 30) / 6.0); }

double logistic(double eta) { return 1 / (1 + std::exp(-eta)); }

}  // namespace

StandFit::StandFit(const StandLayout& layout)
    : layout_(layout),
      row_(layout.treatments(), none),
      parts_(layout.strata() + layout.treatments()) {
  // The first treatment of those tied together is what the others are held against.
  for (std::size_t t = 0; t < layout.treatments(); ++t) {
    if (layout.tied[t] < 0) continue;
    const auto first = std::find(layout.tied.begin(), layout.tied.end(), layout.tied[t]);
    if (static_cast<std::size_t>(first - layout.tied.begin()) != t) row_[t] = rows_++;
  }
  for (const auto& cell : layout.cells) row_of_cell_.push_back(row_[cell.treatment]);
  for (std::size_t b = 0; b < layout.strata(); ++b) {
    const std::size_t c = layout.first_cell[b];
    first_row_.push_back(row_of_cell_[c] == none ? c + 1 : c);
  }
  for (auto* values : {&p_, &q_, &hat_, &information_, &score_, &part_, &among_})
    values->assign(layout.cells.size(), 0);
  whole_.assign(layout.strata(), 0);
  inverse_.assign(rows_ * rows_, 0);
  root_.assign(rows_ * rows_, 0);
  work_.assign(rows_, 0);
  slope_.assign(layout.treatments() * rows_, 0);
  by_stratum_.assign(layout.strata(), 0);
  by_treatment_.assign(layout.treatments(), 0);
  spread_out();
}

void StandFit::spread_out() {
  for (std::size_t c = 0; c < p_.size(); ++c) {
    const auto& cell = layout_.cells[c];
    const double eta = logit(cell.stratum, cell.treatment);
    const double odds = std::exp(-std::fabs(eta)), other = 1 / (1 + odds), rarer = odds * other;
    p_[c] = eta < 0 ? rarer : other;
    q_[c] = eta < 0 ? other : rarer;
  }
}

// Cholesky's factor of the treatments' information.
void StandFit::factor(std::span<const double> information) {
  std::fill(root_.begin(), root_.end(), 0.0);
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    const std::size_t from = layout_.first_cell[b], to = layout_.first_cell[b + 1];
    whole_[b] = 0;
    for (std::size_t c = from; c < to; ++c) whole_[b] += information[c];
    const double each = 1 / whole_[b];
    for (std::size_t c = from; c < to; ++c) part_[c] = information[c] * each;
    const std::size_t first = first_row_[b];
    for (std::size_t c = first; c < to; ++c) {
      double* const row = root_.data() + row_of_cell_[c] * rows_;
      among_[c] = first > from ? part_[c] * information[from] : 0;
      for (std::size_t e = first; e < c; ++e) {
        const double both = part_[c] * information[e];
        among_[c] += both;
        among_[e] += both;
        row[row_of_cell_[e]] -= both;
      }
    }
    for (std::size_t c = first; c < to; ++c) root_[row_of_cell_[c] * (rows_ + 1)] += among_[c];
  }
  for (std::size_t i = 0; i < rows_; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = root_[i * rows_ + j];
      for (std::size_t k = 0; k < j; ++k) sum -= root_[i * rows_ + k] * root_[j * rows_ + k];
      root_[i * rows_ + j] = i == j ? std::sqrt(std::max(sum, 1e-300)) : sum / root_[j * rows_ + j];
    }
}

double StandFit::log_determinant() const {
  double sum = 0;
  for (const double whole : whole_) sum += std::log(whole);
  for (std::size_t i = 0; i < rows_; ++i) sum += 2 * std::log(root_[i * rows_ + i]);
  return sum;
}

void StandFit::solve(std::size_t first) {
  for (std::size_t i = first; i < rows_; ++i) {
    for (std::size_t k = first; k < i; ++k) work_[i] -= root_[i * rows_ + k] * work_[k];
    work_[i] /= root_[i * rows_ + i];
  }
  for (std::size_t i = rows_; i-- > first;) {
    for (std::size_t k = i + 1; k < rows_; ++k) work_[i] -= root_[k * rows_ + i] * work_[k];
    work_[i] /= root_[i * rows_ + i];
  }
}

void StandFit::invert() {
  for (std::size_t column = 0; column < rows_; ++column) {
    std::fill(work_.begin(), work_.end(), 0.0);
    work_[column] = 1;
    solve(column);
    for (std::size_t i = column; i < rows_; ++i)
      inverse_[i * rows_ + column] = inverse_[column * rows_ + i] = work_[i];
  }
}

// h = W (1/whole + (e - u)' V (e - u)), u the stratum's shares of information.
void StandFit::find_leverages() {
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    const std::size_t from = layout_.first_cell[b], to = layout_.first_cell[b + 1];
    double among = 0;  // u' V u
    hat_[from] = 0;    // where it has no row
    for (std::size_t c = first_row_[b]; c < to; ++c) {
      const double* const row = inverse_.data() + row_of_cell_[c] * rows_;
      double to_u = 0;  // (V u) of this treatment
      for (std::size_t e = first_row_[b]; e < to; ++e) to_u += row[row_of_cell_[e]] * part_[e];
      among += part_[c] * to_u;
      hat_[c] = row[row_of_cell_[c]] - 2 * to_u;
    }
    for (std::size_t c = from; c < to; ++c)
      hat_[c] = std::clamp(part_[c] + information_[c] * (hat_[c] + among), 0.0, 1.0);
  }
}

// One step of Newton's. What it asks for is measured in the cells' logits: which treatment the
// others are held against is nothing to them.
double StandFit::step(std::span<const double> score, double most) {
  std::fill(work_.begin(), work_.end(), 0.0);
  std::fill(by_stratum_.begin(), by_stratum_.end(), 0.0);
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    const std::size_t to = layout_.first_cell[b + 1];
    for (std::size_t c = layout_.first_cell[b]; c < to; ++c) by_stratum_[b] += score[c];
    for (std::size_t c = first_row_[b]; c < to; ++c)
      work_[row_of_cell_[c]] += score[c] - part_[c] * by_stratum_[b];
  }
  solve(0);
  double longest = 0;
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    const std::size_t from = layout_.first_cell[b], to = layout_.first_cell[b + 1];
    by_stratum_[b] /= whole_[b];
    for (std::size_t c = first_row_[b]; c < to; ++c)
      by_stratum_[b] -= part_[c] * work_[row_of_cell_[c]];
    if (first_row_[b] > from) longest = std::max(longest, std::fabs(by_stratum_[b]));
    for (std::size_t c = first_row_[b]; c < to; ++c)
      longest = std::max(longest, std::fabs(by_stratum_[b] + work_[row_of_cell_[c]]));
  }
  const double part = longest > most ? most / longest : 1;
  for (std::size_t b = 0; b < whole_.size(); ++b) parts_[b] += part * by_stratum_[b];
  for (std::size_t t = 0; t < row_.size(); ++t)
    if (row_[t] != none) parts_[whole_.size() + t] += part * work_[row_[t]];
  spread_out();
  return longest;
}

// One stratum, so a parameter a cell: so many seeds more in each, half of them up.
void StandFit::fit_alone(std::span<const double> weight, std::span<const double> up, double seeds) {
  for (std::size_t c = 0; c < p_.size(); ++c) {
    p_[c] = (up[c] + seeds / 2) / (weight[c] + seeds);
    q_[c] = (weight[c] - up[c] + seeds / 2) / (weight[c] + seeds);
    information_[c] = weight[c] * p_[c] * q_[c];
  }
}

// What the penalised fit is the summit of, at what was factored last.
double StandFit::penalised_likelihood(std::span<const double> weight,
                                      std::span<const double> up) const {
  double sum = log_determinant() / 2;
  for (std::size_t c = 0; c < p_.size(); ++c)
    sum += up[c] * std::log(p_[c]) + (weight[c] - up[c]) * std::log(q_[c]);
  return sum;
}

void StandFit::start_anew() {
  std::fill(parts_.begin(), parts_.end(), 0.0);
  spread_out();
}

void StandFit::go_back_halfway() {
  for (std::size_t k = 0; k < parts_.size(); ++k) parts_[k] = (parts_[k] + before_[k]) / 2;
  spread_out();
}

// The penalty acts as h seeds more in each cell, half of them up; h is brought up to date at each
// step (the pseudo-data of Kosmidis & Firth 2009, Biometrika 96:793). A few steps mostly do. Where
// treatments that strata contradict make them swing to and fro, each later one must climb.
void StandFit::penalised(std::span<const double> weight, std::span<const double> up) {
  if (layout_.strata() == 1) {
    fit_alone(weight, up, 1);
    std::fill(hat_.begin(), hat_.end(), 1.0);
    log_weights_ = log_information_ = 0;
    for (std::size_t c = 0; c < p_.size(); ++c) {
      log_weights_ += std::log(weight[c]);
      log_information_ += std::log(information_[c]);
    }
    return;
  }
  factor(weight);
  log_weights_ = log_determinant();
  double longest = HUGE_VAL, height = -HUGE_VAL;
  const int free = restless_ ? 0 : free_steps;
  for (int i = 0; i <= most_steps; ++i) {
    if (i == free && !restless_) {
      restless_ = true;
      start_anew();
    }
    for (std::size_t c = 0; c < p_.size(); ++c) information_[c] = weight[c] * p_[c] * q_[c];
    factor(information_);
    if (i >= free && i < most_steps && longest >= close_enough) {
      const double here = penalised_likelihood(weight, up);
      if (here < height - 1e-9 * std::fabs(height)) {
        go_back_halfway();
        continue;
      }
      height = here;
      before_ = parts_;
    }
    invert();
    find_leverages();
    if (longest < close_enough || i == most_steps) break;
    for (std::size_t c = 0; c < p_.size(); ++c) {
      score_[c] = up[c] * q_[c] - (weight[c] - up[c]) * p_[c] + hat_[c] * (q_[c] - p_[c]) / 2;
      information_[c] = (weight[c] + hat_[c]) * p_[c] * q_[c];
    }
    factor(information_);
    longest = step(score_, longest_step);
  }
  log_information_ = log_determinant();
}

void StandFit::plain(std::span<const double> weight, std::span<const double> up) {
  if (layout_.strata() == 1) {
    fit_alone(weight, up, 0);  // the share itself, but for all up and for nothing up
    for (std::size_t c = 0; c < p_.size(); ++c)
      if (p_[c] <= 0 || q_[c] <= 0) {
        p_[c] = (up[c] + no_seed / 2) / (weight[c] + no_seed);
        q_[c] = (weight[c] - up[c] + no_seed / 2) / (weight[c] + no_seed);
        information_[c] = weight[c] * p_[c] * q_[c];
      }
    return;
  }
  for (int i = 0; i < most_steps; ++i) {
    for (std::size_t c = 0; c < p_.size(); ++c) {
      score_[c] = up[c] * q_[c] - (weight[c] - up[c]) * p_[c] + no_seed * (q_[c] - p_[c]) / 2;
      information_[c] = (weight[c] + no_seed) * p_[c] * q_[c];
    }
    factor(information_);
    if (step(score_, allowed(i)) < close_enough) return;
  }
}

void StandFit::keep(double x) {
  if (layout_.strata() == 1) return;
  const auto at = std::lower_bound(kept_.begin(), kept_.end(), x,
                                   [](const Kept& kept, double value) { return kept.x < value; });
  if (at == kept_.end() || at->x > x) kept_.insert(at, {x, parts_});
}

void StandFit::start_at(double x) {
  if (restless_) start_anew();
  if (restless_ || kept_.empty()) return;
  const std::size_t used = std::min(most_used, kept_.size());
  std::size_t from = 0;
  while (from + used < kept_.size() && x - kept_[from].x > kept_[from + used].x - x) ++from;
  std::fill(parts_.begin(), parts_.end(), 0.0);
  for (std::size_t i = from; i < from + used; ++i) {
    double weight = 1;  // Lagrange's
    for (std::size_t j = from; j < from + used; ++j)
      if (j != i) weight *= (x - kept_[j].x) / (kept_[i].x - kept_[j].x);
    for (std::size_t k = 0; k < parts_.size(); ++k) parts_[k] += weight * kept_[i].parts[k];
  }
  spread_out();
}

// Calls with(treatment, fraction up, not up) for the treatments that are tied together in a
// stratum; those that it does not hold are filled in.
template <class With>
void StandFit::each_treatment(std::size_t stratum, With&& with) const {
  std::size_t c = layout_.first_cell[stratum];
  const std::size_t to = layout_.first_cell[stratum + 1];
  const int set = layout_.tied[layout_.cells[c].treatment];
  for (std::size_t t = 0; t < layout_.treatments(); ++t) {
    if (layout_.tied[t] != set) continue;
    if (c < to && layout_.cells[c].treatment == t) {
      with(t, p_[c], q_[c]);
      ++c;
    } else {
      const double p = logistic(logit(stratum, t));
      with(t, p, 1 - p);
    }
  }
}

void StandFit::means(std::span<double> mean) const {
  std::fill(mean.begin(), mean.end(), 0.0);
  for (std::size_t b = 0; b < whole_.size(); ++b)
    if (layout_.share[b] > 0)
      each_treatment(b, [&](std::size_t t, double p, double) { mean[t] += layout_.share[b] * p; });
}

// By a stratum's logit a mean moves by share p q, by its treatment's by the sum of these. The
// strata's part of the covariance is eliminated like the strata themselves.
void StandFit::means(std::span<double> mean, std::span<double> covariance) {
  const std::size_t all = mean.size();
  std::fill(mean.begin(), mean.end(), 0.0);
  std::fill(covariance.begin(), covariance.end(), 0.0);
  if (layout_.strata() == 1) {
    for (std::size_t c = 0; c < p_.size(); ++c) {
      const std::size_t t = layout_.cells[c].treatment;
      mean[t] = p_[c];
      covariance[t * all + t] = p_[c] * q_[c] * (p_[c] * q_[c] / information_[c]);
    }
    return;
  }
  std::fill(slope_.begin(), slope_.end(), 0.0);
  for (std::size_t b = 0; b < whole_.size(); ++b) {
    if (layout_.share[b] == 0) continue;
    std::fill(by_treatment_.begin(), by_treatment_.end(), 0.0);
    each_treatment(b, [&](std::size_t t, double p, double q) {
      const double moves = layout_.share[b] * p * q;
      by_treatment_[t] = moves;
      mean[t] += layout_.share[b] * p;
      double* const slope = slope_.data() + t * rows_;
      if (row_[t] != none) slope[row_[t]] += moves;
      for (std::size_t c = first_row_[b]; c < layout_.first_cell[b + 1]; ++c)
        slope[row_of_cell_[c]] -= moves * part_[c];
      const double times = moves / whole_[b];
      for (std::size_t s = 0; s <= t; ++s) covariance[t * all + s] += times * by_treatment_[s];
    });
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
