// See the header; difference.cpp integrates.
#include "stats/stand/contrast.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "stats/numeric/distributions.hpp"
#include "stats/stand/difference.hpp"
#include "stats/stand/tails.hpp"

namespace plumule::stats {
namespace {

constexpr double spread_level = 0.05, usual_angle = 0.2;

double bayes_factor(const StandModel& model, std::size_t first, std::size_t second) {
  const std::size_t all = model.layout().treatments();
  double differing[2] = {0, 0}, alike[2] = {0, 0};
  for (const auto& node : model.nodes()) {
    const double t = node.angle[first] - node.angle[second];
    const double variance = node.covariance[first * all + first] +
                            node.covariance[second * all + second] -
                            2 * node.covariance[first * all + second];
    const auto density = [t](double v) { return std::exp(-t * t / (2 * v)) / std::sqrt(v); };
    const double one = density(variance + usual_angle * usual_angle), none = density(variance);
    differing[0] += node.by_trial * one;
    differing[1] += node.at_large * one;
    alike[0] += node.by_trial * none;
    alike[1] += node.at_large * none;
  }
  return std::min(differing[0] / alike[0], differing[1] / alike[1]);
}

// Of one and the other, in the strata that hold both.
std::pair<int, int> units_together(const StandLayout& layout, std::size_t first,
                                   std::size_t second) {
  std::pair<double, double> all{0, 0};
  for (std::size_t b = 0; b < layout.strata(); ++b) {
    std::pair<double, double> here{0, 0};
    for (std::size_t c = layout.first_cell[b]; c < layout.first_cell[b + 1]; ++c) {
      const auto& cell = layout.cells[c];
      if (cell.treatment == first) here.first = cell.units;
      if (cell.treatment == second) here.second = cell.units;
    }
    if (here.first == 0 || here.second == 0) continue;
    all.first += here.first;
    all.second += here.second;
  }
  return {static_cast<int>(all.first), static_cast<int>(all.second)};
}

double cautious(double a, double b) {
  if ((a > 0.5) != (b > 0.5)) return 0.5;
  return a > 0.5 ? std::min(a, b) : std::max(a, b);
}

std::optional<int> spreads_more(const StandModel& model, int first, int second) {
  const auto of_few = [&](int few, int many) {
    const auto a = model.spread(few), b = model.spread(many);
    if (a.df < 0.5 || b.df < 0.5 || b.pearson <= 0) return false;
    const double f = a.pearson / a.df / (b.pearson / b.df);
    return beta_lower(b.df / (b.df + a.df * f), b.df / 2, a.df / 2) <= spread_level;
  };
  const auto& units = model.layout().units;
  const int one = units[static_cast<std::size_t>(first)],
            two = units[static_cast<std::size_t>(second)];
  if (one < two && of_few(first, second)) return first;
  if (two < one && of_few(second, first)) return second;
  return std::nullopt;
}

}  // namespace

double StandContrast::tail() const { return 2 * std::min(p_better, 1 - p_better); }

StandContrast contrast(const StandModel& model, int first, int second, double d, double level) {
  if (!(d > 0 && d <= 1))
    throw std::domain_error("the smallest difference worth having must lie in (0, 1]");
  const double outside = tail_probability(level, Side::both);
  StandContrast made;
  made.first = first;
  made.second = second;
  made.estimate = model.mean(first) - model.mean(second);
  made.range = {method::standardised, level, -1, 1};
  const auto& layout = model.layout();
  const auto one = static_cast<std::size_t>(first), two = static_cast<std::size_t>(second);
  if (one == two) throw std::domain_error("a treatment cannot be held against itself");
  std::tie(made.units_first, made.units_second) = units_together(layout, one, two);
  made.df = layout.df;
  made.told_apart = made.units_first > 0;
  if (!made.told_apart) return made;
  made.gaps_filled = layout.gaps_filled[static_cast<std::size_t>(layout.tied[one])];
  made.spreads_more = spreads_more(model, first, second);
  made.bayes_factor = bayes_factor(model, one, two);

  Difference difference(model, one, two);
  const TwoTails at_zero = difference(0), over = difference(d), under = difference(-d);
  made.p_better = cautious(1 - at_zero.by_trial, 1 - at_zero.at_large);
  made.p_worth = cautious(1 - over.by_trial, 1 - over.at_large);
  made.p_worth_less = cautious(under.by_trial, under.at_large);
  made.p_within =
      std::max(0.0, std::min(over.by_trial - under.by_trial, over.at_large - under.at_large));
  // An end is looked for on its own side of 0: so it is clear of 0 just where a claim is. And not
  // beyond the estimate, at which it would stand.
  const auto end = [&](bool upper) {
    const double tail = upper ? at_zero.larger_above() : at_zero.larger_below();
    const bool above = (tail <= outside) != upper;
    double low = above ? 0 : -1, high = above ? 1 : 0;
    (upper ? low : high) = upper ? std::max(low, made.estimate) : std::min(high, made.estimate);
    if (low >= high) return made.estimate;
    const double start = difference.centre() + (upper ? 2 : -2) * difference.sd();
    return wider_end(difference, upper, outside, start, low, high);
  };
  made.range.lower = end(false);
  made.range.upper = end(true);
  return made;
}

}  // namespace plumule::stats
