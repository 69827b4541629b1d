// See the header. Tails are summed outwards by the ratio of neighbouring probabilities.
#include "stats/proportions/fisher.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "stats/numeric/count_probability.hpp"

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

// Sum of P(x), P(x + direction), ... to the end of the support, the first of them given.
double tail(const Margins& margins, double x, double first, int direction) {
  if (x < margins.least() || x > margins.most()) return 0;
  const double mode = margins.mode();
  double term = first, sum = term;
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
    if (term < sum * 1e-18 && (x - mode) * direction > 0) break;
  }
  return sum;
}

double tail(const Margins& margins, double x, int direction) {
  return tail(margins, x, margins.at(x), direction);
}

struct Place {
  double x = 0, probability = 0;
};

// On one side of the mode: the first count that is no likelier than `limit`, going outwards (one
// beyond the support where all are likelier). Probabilities fall outwards, so halving finds it.
Place halved_outward(const Margins& margins, double limit, int direction) {
  double inner = margins.mode(), outer = direction > 0 ? margins.most() + 1 : margins.least() - 1;
  if (margins.at(inner) <= limit) return {inner, margins.at(inner)};
  while (std::fabs(outer - inner) > 1) {
    const double middle = std::floor((inner + outer) / 2);
    (margins.at(middle) > limit ? inner : outer) = middle;
  }
  return {outer, margins.at(outer)};
}

// The same by ratios from the table seen: a step costs a fiftieth of a probability.
Place walked_outward(const Margins& margins, const Place& seen, double limit, int direction) {
  const double mode = margins.mode();
  Place at = seen;
  const auto ratio = [&](double x) {  // P(x + direction) / P(x)
    return direction > 0 ? margins.next_over(x) : 1 / margins.next_over(x - 1);
  };
  while ((at.x - mode) * direction < 0 || at.probability > limit) {
    at.probability *= ratio(at.x);
    at.x += direction;
  }
  if (at.x != seen.x) return at;
  while (at.x != mode) {  // those as likely, if any, lie inwards of the table seen
    const double inner = at.probability / ratio(at.x - direction);
    if (inner > limit) break;
    at = {at.x - direction, inner};
  }
  return at;
}

// `equal`: the weight of tables just as likely as the one seen (1 for p, 1/2 for mid-p).
double p_value(const TwoByTwo& table, Alternative alternative, double equal) {
  if (!table.first.whole() || !table.second.whole())
    throw std::domain_error("an exact test needs whole numbers of seeds");
  const double x = table.first.x();
  const Margins margins{table.first.n(), table.second.n(), x + table.second.x()};
  const Place seen{x, margins.at(x)};
  if (alternative == Alternative::greater)
    return std::min(1.0, tail(margins, x, 1) - (1 - equal) * seen.probability);
  if (alternative == Alternative::less)
    return std::min(1.0, tail(margins, x, -1) - (1 - equal) * seen.probability);
  constexpr double longest_walk = 1000;
  const bool walk = std::fabs(x - margins.mode()) <= longest_walk && seen.probability > 0;
  // Both sides outwards of what is no likelier than `limit`, with the mode counted once.
  const auto beyond = [&](double limit) {
    double sum = 0, starts_at_mode = 0;
    for (const int direction : {-1, 1}) {
      const Place from = walk ? walked_outward(margins, seen, limit, direction)
                              : halved_outward(margins, limit, direction);
      sum += tail(margins, from.x, from.probability, direction);
      if (from.x == margins.mode() && ++starts_at_mode == 2) sum -= from.probability;
    }
    return sum;
  };
  double p = equal * beyond(seen.probability * (1 + tie));
  if (equal < 1) p += (1 - equal) * beyond(seen.probability * (1 - tie));
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
