// Why single p fall under the bar: exact coverage under other constants of the prior of p, reckoned
// here anew (not by the library), and the outcome whose interval begins just above that p.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <string>
#include <vector>

#include "parts.hpp"
#include "stats/trays/rho_nodes.hpp"
#include "stats/trays/tray_aware.hpp"

namespace plumule::calibration {
namespace {

constexpr int parts = 500;  // p in steps of 0.002

double p_at(int c) { return c / static_cast<double>(parts); }

// Log-likelihood of every number up at every node of rho and every p asked for.
class Table {
 public:
  Table(int n, const std::vector<double>& theta, std::vector<double> p)
      : nodes_(theta.size()), p_(std::move(p)) {
    const auto size = static_cast<std::size_t>(n);
    values_.resize((size + 1) * nodes_ * p_.size());
    std::vector<double> up(size + 1), down(size + 1);
    for (std::size_t j = 0; j < nodes_; ++j)
      for (std::size_t g = 0; g < p_.size(); ++g) {
        double sown = 0;
        for (std::size_t i = 0; i < size; ++i) {
          const double step = static_cast<double>(i) * theta[j];
          up[i + 1] = up[i] + std::log(p_[g] + step);
          down[i + 1] = down[i] + std::log(1 - p_[g] + step);
          sown += std::log1p(step);
        }
        for (std::size_t x = 0; x <= size; ++x)
          values_[(x * nodes_ + j) * p_.size() + g] = up[x] + down[size - x] - sown;
      }
  }
  const double* row(int x, std::size_t node) const {
    return &values_[(static_cast<std::size_t>(x) * nodes_ + node) * p_.size()];
  }
  std::size_t columns() const { return p_.size(); }

 private:
  std::size_t nodes_;
  std::vector<double> p_, values_;
};

struct Cell {
  int k, n;
  double b;
};

// Coverage at every p of equal-tailed intervals under p ~ Beta(a, a), for each of several a.
std::vector<std::vector<double>> coverage(const Cell& cell, const std::vector<double>& constants) {
  const auto prior = stats::rho_from_beta(cell.b);
  const auto nodes = stats::make_rho_nodes(prior, stats::whole_rho_range(prior, cell.n), 0.6);
  std::vector<double> theta, log_weight;
  double mass = 0;
  for (const auto& node : nodes) mass += std::exp(node.log_weight);
  for (const auto& node : nodes) {
    theta.push_back(node.theta);
    log_weight.push_back(node.log_weight - std::log(mass));
  }
  std::vector<double> middles, ends;
  for (int c = 0; c < parts; ++c) {
    const double middle = (std::asin(std::sqrt(p_at(c))) + std::asin(std::sqrt(p_at(c + 1)))) / 2;
    middles.push_back(std::pow(std::sin(middle), 2));
    if (c > 0) ends.push_back(p_at(c));
  }
  const Table inner(cell.n, theta, middles), outer(cell.n, theta, ends);
  std::vector<std::vector<double>> measure;  // of each middle, under each constant
  for (const double a : constants) {
    measure.emplace_back();
    for (int c = 0; c < parts; ++c) {
      const double from = std::asin(std::sqrt(p_at(c))), to = std::asin(std::sqrt(p_at(c + 1)));
      const double middle = (from + to) / 2;
      measure.back().push_back((to - from) *
                               std::pow(std::sin(middle) * std::cos(middle), 2 * a - 1));
    }
  }
  std::vector<std::vector<double>> held(constants.size(), std::vector<double>(parts, 0.0));
  std::vector<int> up;
  std::vector<double> sum(parts), likelihood(parts), chance(parts);
  const auto add = [&](const Table& table, std::size_t j, std::vector<double>& into, double extra) {
    std::fill_n(sum.begin(), table.columns(), log_weight[j] + extra);
    for (const int x : up) {
      const double* row = table.row(x, j);
      for (std::size_t g = 0; g < table.columns(); ++g) sum[g] += row[g];
    }
    for (std::size_t g = 0; g < table.columns(); ++g)
      if (sum[g] > -60) into[g] += std::exp(sum[g]);
  };
  const auto outcome = [&] {
    double orders = std::lgamma(cell.k + 1.0);
    for (std::size_t i = 0; i < up.size();) {
      const auto same = static_cast<std::size_t>(std::count(up.begin(), up.end(), up[i]));
      orders -= std::lgamma(static_cast<double>(same) + 1);
      i += same;
    }
    for (const int x : up)
      orders += std::lgamma(cell.n + 1.0) - std::lgamma(x + 1.0) - std::lgamma(cell.n - x + 1.0);
    std::fill(likelihood.begin(), likelihood.end(), 0.0);
    std::fill(chance.begin(), chance.end(), 0.0);
    for (std::size_t j = 0; j < theta.size(); ++j) {
      add(inner, j, likelihood, orders);
      add(outer, j, chance, orders);
    }
    const bool none = up.back() == 0, all = up.front() == cell.n;
    for (std::size_t m = 0; m < constants.size(); ++m) {
      double total = 0, below = 0;
      for (std::size_t c = 0; c < parts; ++c) total += likelihood[c] * measure[m][c];
      for (std::size_t c = 1; c < parts; ++c) {
        below += likelihood[c - 1] * measure[m][c - 1];
        const double share = below / total;
        if ((share >= 0.025 || none) && (share <= 0.975 || all)) held[m][c] += chance[c - 1];
      }
    }
  };
  const std::function<void(int)> fill = [&](int least) {
    if (static_cast<int>(up.size()) == cell.k) {
      outcome();
      return;
    }
    for (int x = least; x <= cell.n; ++x) {
      up.push_back(x);
      fill(x);
      up.pop_back();
    }
  };
  fill(0);
  return held;
}

struct Reach {
  double average = 0, lowest = 1;
};

Reach reach(const std::vector<double>& held, int from, int to, int step) {
  Reach made;
  int cells = 0;
  for (int c = from; c <= to; c += step, ++cells) {
    made.average += held[static_cast<std::size_t>(c)];
    made.lowest = std::min(made.lowest, held[static_cast<std::size_t>(c)]);
  }
  made.average /= cells;
  return made;
}

}  // namespace

std::string why_low(const Dip& dip) {
  const auto& [k, n, b, p, bar, covered, at_end] = dip;
  const auto prior = stats::rho_from_beta(b);
  const std::vector<stats::TrayCount> full(static_cast<std::size_t>(k), {n, n});
  const stats::TrayAwarePosterior posterior(full, prior);
  const double lower = posterior.interval().lower, tail = 1 - posterior.probability_at_least(p);
  // Chance that all come up at that p, rho from its prior.
  double mass = 0, all = 0;
  for (const auto& node : stats::make_rho_nodes(prior, stats::whole_rho_range(prior, n), 0.3)) {
    double log_l = 0;
    for (int i = 0; i < n; ++i) log_l += std::log(p + i * node.theta) - std::log1p(i * node.theta);
    mass += std::exp(node.log_weight);
    all += std::exp(node.log_weight + k * log_l);
  }
  all /= mass;
  // The dip is one outcome's step: p lies under its end; its weight is more than the miss; within
  // the same hundredth, at that end, coverage is over 95 %; and to hold p the outcome would have to
  // be given a lower tail of less than the 2.5 % promised.
  const bool step = p < lower && lower - p < 0.01 && covered < bar && all > bar - covered;
  if (!step || at_end < 0.95 || tail >= 0.025) return "";
  return "Reckoned exactly: at p " + Report::number(2, p) + " it covers " +
         Report::number(3, 100 * covered) + " %, " + Report::number(3, 100 * (bar - covered)) +
         " points short. All " + std::to_string(k * n) + " up has a chance of " +
         Report::number(2, 100 * all) + " % there and its interval begins at " +
         Report::number(4, lower) + ": one step of " +
         Report::number(0, std::floor(all / (bar - covered))) +
         " times the miss. At that end coverage is " + Report::number(2, 100 * at_end) +
         " %, so the step leads from under the bar to over 95 % and no even error rate lies"
         " between. To hold p the interval of that outcome would have to leave " +
         Report::number(2, 100 * tail) +
         " % of its posterior below it where equal tails promise 2.50 %; another constant in the"
         " prior does that and loses near 1 (see the section on the constant).";
}

void prior_constant(Report& report, const Effort& effort) {
  report.heading("One percentage: would another constant in the prior of p do better?");
  report.say(
      "Exact coverage, rho from its prior, of equal-tailed intervals under p ~ Beta(a, a): every");
  report.say(
      "cell above that is not drawn, p in steps of 0.002. Average; lowest single p up to 40 seeds");
  report.say(
      "and above; cells under the bar (88 and 90); then p 0.972 to 0.998, where fresh seed lies:");
  report.say(
      "average, mean of the cells' lowest, lowest of all. The bar's own step is 0.01: in these");
  report.say("finer ones more cells may fall under it.");
  report.head({"a", "average", "lowest to 40 seeds", "lowest above", "cells under the bar",
               "average near 1", "mean lowest near 1", "lowest near 1"});
  const std::vector<double> constants = {0.5, 0.55, 2.0 / 3};
  struct Row {
    double least = 1, most = 0, few = 1, many = 1, near = 0, near_low = 0, near_least = 1;
    int missed = 0;
  };
  std::vector<Row> rows(constants.size());
  int cells = 0;
  for (const double b : {49.0, 24.0, 14.0})
    for (const int k : {1, 2, 3, 4, 6})
      for (const int n : {10, 25, 50, 100}) {
        const double outcomes =
            std::exp(std::lgamma(n + k + 1.0) - std::lgamma(n + 1.0) - std::lgamma(k + 1.0));
        if (outcomes > (effort.full ? 25000 : 70)) continue;
        ++cells;
        const auto held = coverage({k, n, b}, constants);
        for (std::size_t m = 0; m < constants.size(); ++m) {
          const auto inside = reach(held[m], parts / 10, parts * 97 / 100, 1);
          const auto near = reach(held[m], parts * 97 / 100 + 1, parts - 1, 1);
          Row& row = rows[m];
          row.least = std::min(row.least, inside.average);
          row.most = std::max(row.most, inside.average);
          double& lowest = k * n <= 40 ? row.few : row.many;
          lowest = std::min(lowest, inside.lowest);
          row.missed += inside.lowest < (k * n <= 40 ? 0.88 : 0.90) ? 1 : 0;
          row.near += near.average;
          row.near_low += near.lowest;
          row.near_least = std::min(row.near_least, near.lowest);
        }
      }
  for (std::size_t m = 0; m < constants.size(); ++m) {
    const Row& row = rows[m];
    report.row({Report::number(2, constants[m]),
                Report::percent(row.least) + " to " + Report::percent(row.most),
                Report::percent(row.few), row.many < 1 ? Report::percent(row.many) : "none",
                std::to_string(row.missed) + " of " + std::to_string(cells),
                Report::percent(row.near / cells), Report::percent(row.near_low / cells),
                Report::percent(row.near_least)});
  }
  report.say(
      "\nA larger constant lifts the dips inside and pays near 1, where its intervals begin too");
  report.say(
      "low for the seed they are most asked about. And 1/2 alone is flat in the arcsine scale, on");
  report.say(
      "which the ends' accuracy of 1e-6 rests. So 1/2 stays. A bar it misses is excused only "
      "while");
  report.say("every constant tried that misses none has a lower mean lowest coverage near 1;");
  const bool dearer = std::all_of(rows.begin() + 1, rows.end(), [&](const Row& row) {
    return row.missed > 0 || row.near_low < rows[0].near_low;
  });
  report.say(dearer ? "so it is here. Bars excused:" : "**it is not so here: no bar is excused.**");
  if (!dearer) report.withdraw_reasons();
  for (const auto& reason : report.reasons()) report.say("\n" + reason);
  if (report.reasons().empty()) report.say("\nnone.");
}

}  // namespace plumule::calibration
