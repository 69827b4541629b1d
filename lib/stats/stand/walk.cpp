// See the header.
#include "stats/stand/walk.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::stats {
StandWalk::StandWalk(const StandLayout& layout, const RhoPrior& prior)
    : layout_(layout), prior_(prior), fit_(layout), plain_(layout), likelihood_(layout) {
  for (auto* values : {&weight_, &up_}) values->assign(layout.cells.size(), 0);
  for (auto* values : {&deflation_, &log_deflation_}) values->assign(layout.sizes.size(), 0);
  for (auto* values : {&slope_, &variance_}) values->assign(layout.treatments(), 0);
}

void StandWalk::weigh_cells(double rho) {
  for (std::size_t s = 0; s < layout_.sizes.size(); ++s) {
    deflation_[s] = 1 + (layout_.sizes[s] - 1) * rho;
    log_deflation_[s] = std::log(deflation_[s]);
  }
  for (std::size_t c = 0; c < layout_.cells.size(); ++c) {
    weight_[c] = up_[c] = 0;
    for (const auto& group : layout_.cells[c].groups) {
      const double seeds = group.units * layout_.sizes[group.size] / deflation_[group.size];
      weight_[c] += seeds;
      up_[c] += seeds * group.mean;
    }
  }
}

double StandWalk::pearson_of_cell(std::size_t c) const {
  const double p = fit_.fraction(c), variance = p * fit_.missing(c);
  double sum = 0;
  for (const auto& group : layout_.cells[c].groups) {
    const double off = group.mean - p;
    sum += (group.squares + group.units * off * off) * layout_.sizes[group.size] /
           (deflation_[group.size] * variance);
  }
  return sum;
}

double StandWalk::pearson(std::size_t treatment) const {
  double sum = 0;
  for (std::size_t c = 0; c < layout_.cells.size(); ++c)
    if (layout_.cells[c].treatment == treatment) sum += pearson_of_cell(c);
  return sum;
}

double StandWalk::residual_df(std::size_t treatment) const {
  double sum = 0;
  for (std::size_t c = 0; c < layout_.cells.size(); ++c)
    if (layout_.cells[c].treatment == treatment) sum += layout_.cells[c].units - fit_.leverage(c);
  return sum;
}

// Of Pearson's chi-squared, and the same with each treatment's squares added up before they are
// divided, by its average variance, the larger. Where strata hold few trays, those that came out
// near 0 or 1 seem to vary little and those that came out apart seem to vary much; the first counts
// every stratum alike and makes light of the spread, which the second sees. In one stratum the two
// are one.
double StandWalk::misfit() const {
  double pearson = 0, together = 0;
  for (std::size_t c = 0; c < layout_.cells.size(); ++c) {
    const double here = pearson_of_cell(c);
    pearson += here;
    together += here * fit_.fraction(c) * fit_.missing(c) / variance_[layout_.cells[c].treatment];
  }
  return std::max(pearson, together);
}

void StandWalk::average_variances() {
  std::vector<double>& whole = slope_;
  for (auto* values : {&whole, &variance_}) std::fill(values->begin(), values->end(), 0.0);
  for (std::size_t c = 0; c < layout_.cells.size(); ++c) {
    const std::size_t t = layout_.cells[c].treatment;
    variance_[t] += weight_[c] * fit_.fraction(c) * fit_.missing(c);
    whole[t] += weight_[c];
  }
  for (std::size_t t = 0; t < whole.size(); ++t)
    variance_[t] = whole[t] > 0 ? variance_[t] / whole[t] : 1;
}

StandNode StandWalk::at(double rho) {
  StandNode node;
  node.rho = rho;
  node.x = std::log1p(layout_.harmonic * rho);
  weigh_cells(rho);
  fit_.start_at(node.x);
  fit_.penalised(weight_, up_);
  fit_.keep(node.x);
  average_variances();
  double unlikely = misfit();
  const double room = layout_.strata() == 1 ? fit_.log_information() : fit_.log_weights();
  for (const auto& cell : layout_.cells)
    for (const auto& group : cell.groups) unlikely += group.units * log_deflation_[group.size];
  const double likelihood = likelihood_.log_at(fit_.fractions(), fit_.missing(), rho / (1 - rho));
  const double log_rest = std::log1p(-rho);
  const double least = std::min(1.0, PriorByTrial::least_df / layout_.df) / layout_.harmonic;
  node.by_trial =
      -(unlikely + room) / 2 + log_rest - PriorByTrial::power * std::log(rho + least) + node.x;
  node.at_large = likelihood - room / 2 + (prior_.b - 1) * log_rest + node.x;
  find_angles(node);
  return node;
}

void StandWalk::find_angles(StandNode& node) {
  const std::size_t all = layout_.treatments();
  for (auto* values : {&node.mean, &node.angle}) values->resize(all);
  node.covariance.resize(all * all);
  fit_.means(node.angle, node.covariance);
  if (layout_.sizes.size() > 1 || !plain_known_) plain_.plain(weight_, up_);
  plain_known_ = true;  // where units are of one size rho weighs them alike
  plain_.means(node.mean);
  for (std::size_t t = 0; t < all; ++t) {
    if (layout_.units[t] == 0) continue;
    const double penalised = node.angle[t], spread = penalised * (1 - penalised);
    // The seeds, if they were independent, that would know the mean as well.
    const double worth = spread / node.covariance[t * all + t];
    const double m = (worth * node.mean[t] + 0.5) / (worth + 1);
    slope_[t] = 0.5 / std::sqrt(m * (1 - m));
    node.angle[t] = std::asin(std::sqrt(m));
  }
  for (std::size_t s = 0; s < all; ++s)
    for (std::size_t t = 0; t < all; ++t) node.covariance[s * all + t] *= slope_[s] * slope_[t];
}

}  // namespace plumule::stats
