// See the header.
#include "stats/proportions/replicates.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <utility>
#include <vector>

#include "stats/numeric/count_probability.hpp"
#include "stats/numeric/distributions.hpp"
#include "stats/numeric/random.hpp"

namespace plumule::stats {
namespace {

constexpr double tie = 1e-9;
constexpr double most_placings = 200000;

double distance(double x, const Tally& tray, double p) {
  const double off = x - tray.n() * p;
  return off * off / (tray.n() * p * (1 - p));
}

// What each count of a tray weighs and adds to the chi-squared.
struct Tray {
  std::vector<double> probability, distance;
};

// Probability over all ways to place `left` more among trays i, i + 1, ...: of all, and of those as
// far out as `seen`.
struct Weighed {
  double all = 0, far = 0;
};

void enumerate(const std::vector<Tray>& trays, std::size_t i, std::size_t left, double probability,
               double sum, double seen, Weighed& total) {
  const std::size_t most = trays[i].probability.size() - 1;
  if (i + 1 == trays.size()) {
    if (left > most) return;
    const double p = probability * trays[i].probability[left];
    total.all += p;
    if (sum + trays[i].distance[left] >= seen - tie) total.far += p;
    return;
  }
  for (std::size_t here = 0; here <= std::min(left, most); ++here)
    enumerate(trays, i + 1, left - here, probability * trays[i].probability[here],
              sum + trays[i].distance[here], seen, total);
}

// Ways to place `marks` among k trays, sizes aside.
double placings(double marks, double k) {
  double ways = 1;
  for (double i = 1; i < k; ++i) ways *= (marks + i) / i;
  return ways;
}

double enumerated_p(const std::vector<Tally>& trays, double p, double marks, double seen) {
  std::vector<Tray> rows;
  for (const Tally& tray : trays) {
    Tray row;
    for (double x = 0; x <= std::min(marks, tray.n()); ++x) {
      // Any p gives the same conditional probabilities; the pooled one keeps them in range.
      row.probability.push_back(binomial_probability(x, tray.n(), p));
      row.distance.push_back(distance(x, tray, p));
    }
    rows.push_back(row);
  }
  Weighed total;
  enumerate(rows, 0, static_cast<std::size_t>(marks), 1, 0, seen, total);
  return std::min(1.0, total.far / total.all);
}

// Places the marks by lot, `draws` times, and counts how often they lie as far out. A few marks are
// dealt one by one to the seeds (each seed stands for its tray); many, tray by tray.
double drawn_p(const std::vector<Tally>& trays, double p, double n, double marks, double seen,
               std::uint64_t seed, std::int64_t draws) {
  Random random(seed);
  const bool dealt = n <= 1e6 && marks <= 200 * static_cast<double>(trays.size());
  std::vector<std::uint32_t> owner;
  if (dealt)
    for (std::size_t i = 0; i < trays.size(); ++i)
      owner.insert(owner.end(), static_cast<std::size_t>(trays[i].n()),
                   static_cast<std::uint32_t>(i));
  const auto number = static_cast<std::size_t>(marks);
  std::vector<double> counts(trays.size());
  std::int64_t far = 1;
  for (std::int64_t draw = 0; draw < draws; ++draw) {
    if (dealt) {
      std::fill(counts.begin(), counts.end(), 0.0);
      for (std::size_t i = 0; i < number; ++i) {
        std::swap(owner[i], owner[i + random.below(static_cast<std::uint32_t>(owner.size() - i))]);
        counts[owner[i]] += 1;
      }
    } else {
      auto seeds = static_cast<std::int64_t>(n), left = static_cast<std::int64_t>(marks);
      for (std::size_t i = 0; i < trays.size(); ++i) {
        const auto size = static_cast<std::int64_t>(trays[i].n());
        const std::int64_t here = random.hypergeometric(seeds, left, size);
        counts[i] = static_cast<double>(here);
        seeds -= size;
        left -= here;
      }
    }
    double sum = 0;
    for (std::size_t i = 0; i < trays.size(); ++i) sum += distance(counts[i], trays[i], p);
    if (sum >= seen - tie) ++far;
  }
  return static_cast<double>(far) / static_cast<double>(draws + 1);
}

}  // namespace

std::optional<Heterogeneity> heterogeneity(std::span<const Tally> given, std::uint64_t seed,
                                           std::int64_t draws) {
  if (draws < 1) throw std::domain_error("a Monte Carlo p needs at least one draw");
  std::vector<Tally> trays;
  double n = 0, x = 0;
  bool whole = true;
  for (const Tally& tray : given) {
    if (tray.n() == 0) continue;
    trays.push_back(tray);
    n += tray.n();
    x += tray.x();
    whole = whole && tray.whole();
  }
  if (trays.size() < 2 || x == 0 || x == n) return std::nullopt;
  std::sort(trays.begin(), trays.end(), [](const Tally& a, const Tally& b) {
    return std::make_tuple(a.n(), a.x()) < std::make_tuple(b.n(), b.x());
  });

  const double p = x / n;
  Heterogeneity result{};
  for (const Tally& tray : trays) result.chi_squared += distance(tray.x(), tray, p);
  result.df = static_cast<double>(trays.size()) - 1;
  result.p = result.p_chi_squared = chi_squared_upper(result.chi_squared, result.df);
  if (!whole || trays.front().n() * std::min(p, 1 - p) >= 5) return result;

  // The rarer of up and not up is placed: the statistic is the same.
  const double marks = std::min(x, n - x), q = marks / n;
  if (placings(marks, result.df + 1) <= most_placings) {
    result.method = HeterogeneityMethod::enumerated;
    result.p = enumerated_p(trays, q, marks, result.chi_squared);
    return result;
  }
  result.method = HeterogeneityMethod::drawn;
  result.drawn = true;
  result.draws = draws;
  result.seed = seed;
  result.p = drawn_p(trays, q, n, marks, result.chi_squared, seed, draws);
  return result;
}

}  // namespace plumule::stats
