// See the header. Tails are summed outwards by the ratio of neighbouring probabilities.
#include "stats/fisher.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "stats/count_probability.hpp"

namespace plumule::stats {
namespace {

constexpr double tie = 1e-7;  // relative: tables as likely as the one seen

// The first group's count given both margins.
struct Margins {
  double n1, n2, up;

  double least() const { return std::max(0.0, up - n2); }
  double most() const { return std::min(n1, up); }
  double mode() const { return std::floor((up + 1) * (n1 + 1) / (n1 + n2 + 2)); }
  double at(double x) const { return hypergeometric_probability(x, n1 + n2, up, n1); }
  double next_over(double x) const {  // P(x + 1) / P(x)
    return (up - x) * (n1 - x) / ((x + 1) * (n2 - up + x + 1));
  }
};

// Sum of P(x), P(x + direction), ... to the end of the support.
double tail(const Margins& margins, double x, int direction) {
  if (x < margins.least() || x > margins.most()) return 0;
  double term = margins.at(x), sum = term;
  for (;;) {
    if (direction > 0) {
      if (x == margins.most()) break;
      term *= margins.next_over(x);
    } else {
      if (x == margins.least()) break;
      term /= margins.next_over(x - 1);
    }
    x += direction;
    sum += term;
    if (term < sum * 1e-18 && (x - margins.mode()) * direction > 0) break;
  }
  return sum;
}

// On the far side of the mode from x: the first count that is no likelier than `limit`, going
// outwards. Probabilities fall outwards, so halving finds it.
double outward_of(const Margins& margins, double limit, int direction) {
  double inner = margins.mode(), outer = direction > 0 ? margins.most() + 1 : margins.least() - 1;
  if (margins.at(inner) <= limit) return inner;
  while (std::fabs(outer - inner) > 1) {
    const double middle = std::floor((inner + outer) / 2);
    (margins.at(middle) > limit ? inner : outer) = middle;
  }
  return outer;
}

// `equal`: the weight of tables just as likely as the one seen (1 for p, 1/2 for mid-p).
double p_value(const TwoByTwo& table, Alternative alternative, double equal) {
  if (!table.first.whole() || !table.second.whole())
    throw std::domain_error("an exact test needs whole numbers of seeds");
  const double x = table.first.x();
  const Margins margins{table.first.n(), table.second.n(), x + table.second.x()};
  const double seen = margins.at(x);
  double p = 0;
  if (alternative == Alternative::greater) p = tail(margins, x, 1) - (1 - equal) * seen;
  if (alternative == Alternative::less) p = tail(margins, x, -1) - (1 - equal) * seen;
  if (alternative == Alternative::two_sided) {
    for (const int direction : {-1, 1}) {
      const double from = outward_of(margins, seen * (1 + tie), direction);
      const double strictly = outward_of(margins, seen * (1 - tie), direction);
      p +=
          equal * tail(margins, from, direction) + (1 - equal) * tail(margins, strictly, direction);
    }
    // Where the mode itself is no likelier, both sides started at it: once too many.
    const double top = margins.at(margins.mode());
    if (top <= seen * (1 + tie)) p -= equal * top;
  }
  return std::min(1.0, p);
}

}  // namespace

double fisher(const TwoByTwo& table, Alternative alternative) {
  return p_value(table, alternative, 1);
}

double fisher_mid_p(const TwoByTwo& table, Alternative alternative) {
  return p_value(table, alternative, 0.5);
}

}  // namespace plumule::stats
