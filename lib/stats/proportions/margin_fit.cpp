// See the header: the root of (1 - w) a^2 + (n2 - m + w (n1 + m)) a - w n1 m inside the margins.
#include "stats/proportions/margin_fit.hpp"

#include <cmath>

namespace plumule::stats {
namespace {

// Each cell is found for itself, with its own row and column first, so that a small one keeps its
// digits: `row` the size of its group, `column` the total of its outcome.
double cell(double row, double column, double total, double w) {
  if (row == 0 || column == 0) return 0;
  const double b = total - row - column + w * (row + column);
  // The discriminant as a sum of squares and products, none negative: its plain form loses all its
  // digits where w is large.
  const double root = std::sqrt((total - row - column) * (total - row - column) +
                                2 * w * (row * (total - row) + column * (total - column)) +
                                w * w * (row - column) * (row - column));
  if (b >= 0) return 2 * w * row * column / (b + root);
  return (root - b) / (2 * (1 - w));
}

}  // namespace

MarginFit fit_margins(const TwoByTwo& table, double odds_ratio) {
  const double n1 = table.first.n(), n2 = table.second.n(), n = table.total();
  const double up = table.first.x() + table.second.x(), down = n - up;
  return {cell(n1, up, n, odds_ratio), cell(n1, down, n, 1 / odds_ratio),
          cell(n2, up, n, 1 / odds_ratio), cell(n2, down, n, odds_ratio)};
}

}  // namespace plumule::stats
