// See the header.
#include "stats/proportions/unconditional_tests.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "stats/proportions/nuisance_maximum.hpp"

namespace plumule::stats {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

bool too_large(const TwoByTwo& table) {
  if (!table.first.whole() || !table.second.whole())
    throw std::domain_error("an exact test needs whole numbers of seeds");
  return (table.first.n() + 1) * (table.second.n() + 1) > largest_exact_table ||
         std::max(table.first.n(), table.second.n()) > largest_exact_group;
}

// The runs of tables for which `extreme(x1, x2)` holds, and their greatest probability.
template <class Extreme>
NuisanceMaximum over_region(int n1, int n2, Extreme&& extreme) {
  std::vector<TableRun> runs;
  std::size_t tables = 0;
  for (int x1 = 0; x1 <= n1; ++x1) {
    for (int x2 = 0; x2 <= n2; ++x2) {
      if (!extreme(x1, x2)) continue;
      ++tables;
      if (!runs.empty() && runs.back().x1 == x1 && runs.back().to == x2 - 1)
        runs.back().to = x2;
      else
        runs.push_back({x1, x2, x2});
    }
  }
  if (tables == static_cast<std::size_t>(n1 + 1) * static_cast<std::size_t>(n2 + 1))
    return {1, 0.5};
  return maximise_over_nuisance(n1, n2, runs);
}

double pooled_z(int x1, int n1, int x2, int n2) {
  if (n1 == 0 || n2 == 0) return 0;
  const double p = static_cast<double>(x1 + x2) / (n1 + n2);
  if (p == 0 || p == 1) return 0;
  const double a = n1, b = n2;
  return (x1 / a - x2 / b) / std::sqrt(p * (1 - p) * (1 / a + 1 / b));
}

// Fisher's p of every table (x1, x2), at x1 (n2 + 1) + x2.
std::vector<double> all_fisher(int n1, int n2, Alternative alternative) {
  const std::size_t width = static_cast<std::size_t>(n2) + 1;
  std::vector<double> p((static_cast<std::size_t>(n1) + 1) * width);
  std::vector<double> row;
  std::vector<std::size_t> order;
  for (int up = 0; up <= n1 + n2; ++up) {
    const int least = std::max(0, up - n2), most = std::min(n1, up);
    const std::size_t size = static_cast<std::size_t>(most - least) + 1;
    row.assign(size, 0);
    const int mode =
        std::clamp(static_cast<int>((up + 1.0) * (n1 + 1.0) / (n1 + n2 + 2.0)), least, most);
    const auto over = [&](int x) {  // P(x + 1) / P(x)
      return static_cast<double>(up - x) * (n1 - x) / ((x + 1.0) * (n2 - up + x + 1.0));
    };
    row[static_cast<std::size_t>(mode - least)] = 1;
    for (int x = mode; x < most; ++x)
      row[static_cast<std::size_t>(x - least + 1)] =
          row[static_cast<std::size_t>(x - least)] * over(x);
    for (int x = mode; x > least; --x)
      row[static_cast<std::size_t>(x - least - 1)] =
          row[static_cast<std::size_t>(x - least)] / over(x - 1);
    const double total = std::accumulate(row.begin(), row.end(), 0.0);
    const auto place = [&](std::size_t i) -> double& {
      const std::size_t x1 = static_cast<std::size_t>(least) + i;
      return p[x1 * width + static_cast<std::size_t>(up) - x1];
    };
    double sum = 0;
    if (alternative == Alternative::less) {
      for (std::size_t i = 0; i < size; ++i) place(i) = (sum += row[i]) / total;
    } else if (alternative == Alternative::greater) {
      for (std::size_t i = size; i-- > 0;) place(i) = (sum += row[i]) / total;
    } else {
      order.resize(size);
      std::iota(order.begin(), order.end(), std::size_t{0});
      std::sort(order.begin(), order.end(),
                [&](std::size_t a, std::size_t b) { return row[a] < row[b]; });
      for (std::size_t from = 0; from < size;) {  // ties share the sum of all of them
        std::size_t past = from;
        while (past < size && row[order[past]] <= row[order[from]] * (1 + 1e-7))
          sum += row[order[past++]];
        for (; from < past; ++from) place(order[from]) = sum / total;
      }
    }
  }
  return p;
}

ExactTest boschloo_by(const TwoByTwo& table, Alternative alternative) {
  const int n1 = static_cast<int>(table.first.n()), n2 = static_cast<int>(table.second.n());
  const std::size_t width = static_cast<std::size_t>(n2) + 1;
  const std::vector<double> p = all_fisher(n1, n2, alternative);
  const double seen = p[static_cast<std::size_t>(table.first.x()) * width +
                        static_cast<std::size_t>(table.second.x())];
  const NuisanceMaximum top = over_region(n1, n2, [&](int x1, int x2) {
    return p[static_cast<std::size_t>(x1) * width + static_cast<std::size_t>(x2)] <=
           seen * (1 + 1e-10);
  });
  return {ExactStatus::ok, top.probability, top.proportion, seen};
}

}  // namespace

ExactTest barnard(const TwoByTwo& table, Alternative alternative) {
  if (too_large(table)) return {ExactStatus::too_large, nan, nan, nan};
  const int n1 = static_cast<int>(table.first.n()), n2 = static_cast<int>(table.second.n());
  const double seen =
      pooled_z(static_cast<int>(table.first.x()), n1, static_cast<int>(table.second.x()), n2);
  const NuisanceMaximum top = over_region(n1, n2, [&](int x1, int x2) {
    const double z = pooled_z(x1, n1, x2, n2);
    if (alternative == Alternative::less) return z <= seen + 1e-9;
    if (alternative == Alternative::greater) return z >= seen - 1e-9;
    return std::fabs(z) >= std::fabs(seen) - 1e-9;
  });
  return {ExactStatus::ok, top.probability, top.proportion, seen};
}

ExactTest boschloo(const TwoByTwo& table, Alternative alternative, BoschlooTwoSided convention) {
  if (too_large(table)) return {ExactStatus::too_large, nan, nan, nan};
  if (alternative != Alternative::two_sided || convention == BoschlooTwoSided::fisher_ordering)
    return boschloo_by(table, alternative);
  const ExactTest less = boschloo_by(table, Alternative::less);
  const ExactTest greater = boschloo_by(table, Alternative::greater);
  ExactTest smaller = less.p <= greater.p ? less : greater;
  smaller.p = std::min(1.0, 2 * smaller.p);
  return smaller;
}

}  // namespace plumule::stats
