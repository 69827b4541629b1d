// The odds ratio of two proportions; see two_proportions.hpp.
#include <algorithm>
#include <cmath>
#include <limits>

#include "stats/numeric/root.hpp"
#include "stats/proportions/margin_fit.hpp"
#include "stats/proportions/proportion.hpp"
#include "stats/proportions/ratio_recovery.hpp"
#include "stats/proportions/two_proportions.hpp"

namespace plumule::stats {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double far = 300;  // of a log odds ratio: its square root and square stay finite

double odds(double p) { return p / (1 - p); }

// Of a group that has failures.
Limits odds_limits(Tally tally, double two_sided) {
  const Interval w = wilson(tally, two_sided);
  return {tally.x() / tally.failures(), odds(w.lower), odds(w.upper)};
}

Tally turned(Tally tally) { return {tally.failures(), tally.n()}; }

// Nothing is known of the odds ratio.
bool silent(const TwoByTwo& table) {
  const double up = table.first.x() + table.second.x();
  return table.first.n() == 0 || table.second.n() == 0 || up == 0 || up == table.total();
}

// Signed root of the Miettinen-Nurminen statistic for a true odds ratio w; falls as w grows.
double deviate(const TwoByTwo& table, double w) {
  const MarginFit fit = fit_margins(table, w);
  const double n = table.total();
  // The same difference in all four cells; the smallest keeps the most digits.
  const double least = std::min({fit.x1, fit.f1, fit.x2, fit.f2});
  const double off = least == fit.x1   ? table.first.x() - fit.x1
                     : least == fit.f1 ? fit.f1 - table.first.failures()
                     : least == fit.x2 ? fit.x2 - table.second.x()
                                       : table.second.failures() - fit.f2;
  if (off == 0) return 0;
  return off * std::sqrt(fit.information() * (n - 1) / n);
}

}  // namespace

Interval newcombe_odds_ratio(const TwoByTwo& table, double level, Side side) {
  tail_probability(level, side);  // checks the level
  const double two_sided = side == Side::both ? level : 2 * level - 1;
  Interval interval{method::newcombe, level, 0, infinity, side};
  if (silent(table) || !(two_sided > 0)) return interval;
  const bool whole1 = table.first.failures() == 0, whole2 = table.second.failures() == 0;
  const bool none1 = table.first.x() == 0, none2 = table.second.x() == 0;
  const auto first = [&] { return wilson(table.first, two_sided); };
  const auto second = [&] { return wilson(table.second, two_sided); };
  if (none1 && whole2) {
    if (side != Side::lower) interval.upper = odds(first().upper) / odds(second().lower);
    return interval;
  }
  if (whole1 && none2) {
    if (side != Side::upper) interval.lower = odds(first().lower) / odds(second().upper);
    return interval;
  }
  if (whole1 || whole2)  // odds of not coming up: second over first
    return recovered_ratio(odds_limits(turned(table.second), two_sided),
                           odds_limits(turned(table.first), two_sided), level, side);
  return recovered_ratio(odds_limits(table.first, two_sided), odds_limits(table.second, two_sided),
                         level, side);
}

Interval miettinen_nurminen_odds_ratio(const TwoByTwo& table, double level, Side side) {
  const double z = normal_deviate(level, side);
  Interval interval{method::miettinen_nurminen, level, 0, infinity, side};
  if (silent(table) || table.total() <= 1) return interval;
  const bool least = table.first.x() == 0 || table.second.failures() == 0;
  const bool most = table.first.failures() == 0 || table.second.x() == 0;
  const double seen = least  ? -far
                      : most ? far
                             : std::log(table.first.x() / table.first.failures() *
                                        table.second.failures() / table.second.x());
  if (side != Side::upper && !least)
    interval.lower =
        std::exp(find_root([&](double t) { return deviate(table, std::exp(t)) - z; }, -far, seen));
  if (side != Side::lower && !most)
    interval.upper =
        std::exp(find_root([&](double t) { return deviate(table, std::exp(t)) + z; }, seen, far));
  return interval;
}

TwoProportionEffect odds_ratio(const TwoByTwo& table, double level, Side side) {
  const double above = table.first.x() * table.second.failures();
  const double below = table.first.failures() * table.second.x();
  return {above / below, newcombe_odds_ratio(table, level, side),
          miettinen_nurminen_odds_ratio(table, level, side)};
}

}  // namespace plumule::stats
