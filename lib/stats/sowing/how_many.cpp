#include "stats/sowing/how_many.hpp"

#include <cmath>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

constexpr std::int64_t most_seeds = 1'000'000'000;

void check(std::span<const ShareNode> share, std::int64_t count) {
  if (share.empty()) throw std::domain_error("how many: nothing is known of what comes up");
  if (count < 1 || count > most_seeds)
    throw std::domain_error("how many: from 1 to 1,000,000,000 can be sown");
}

void check_chance(double chance) {
  if (!(chance > 0 && chance < 1)) throw std::domain_error("how many: a chance lies within 0 to 1");
}

// P(at least k of n), each with chance p (Abramowitz & Stegun 26.5.24).
double binomial_at_least(std::int64_t k, std::int64_t n, double p) {
  if (k <= 0) return 1;
  if (k > n) return 0;
  return beta_lower(p, static_cast<double>(k), static_cast<double>(n - k + 1));
}

// Of a cell with k seeds, each of which stands with chance p.
double filled_share(double p, std::int64_t k) {
  return p >= 1 ? 1 : -std::expm1(static_cast<double>(k) * std::log1p(-p));
}

// The least count from `low` on that `enough` says yes to, where it does so of every larger one, up
// to `high`; none where not even that.
template <class Enough>
std::optional<std::int64_t> least(std::int64_t low, std::int64_t high, const Enough& enough) {
  if (low > high || !enough(high)) return std::nullopt;
  while (low < high) {
    const std::int64_t middle = low + (high - low) / 2;
    if (enough(middle))
      high = middle;
    else
      low = middle + 1;
  }
  return low;
}

}  // namespace

double chance_of_stand(std::span<const ShareNode> share, std::int64_t seeds, std::int64_t plants) {
  check(share, seeds);
  double chance = 0;
  for (const ShareNode& node : share)
    chance += node.weight * binomial_at_least(plants, seeds, node.share);
  return chance;
}

double expected_stand(std::span<const ShareNode> share, std::int64_t seeds) {
  check(share, seeds);
  double mean = 0;
  for (const ShareNode& node : share) mean += node.weight * node.share;
  return mean * static_cast<double>(seeds);
}

StandRange stand_range(std::span<const ShareNode> share, std::int64_t seeds, double level) {
  check(share, seeds);
  check_chance(level);
  const double tail = (1 - level) / 2;
  // The first count that is reached with less than the chance left, and the one before it.
  const auto reached_with = [&](double chance) {
    const auto beyond = least(1, seeds + 1, [&](std::int64_t plants) {
      return chance_of_stand(share, seeds, plants) < chance;
    });
    return beyond ? *beyond - 1 : seeds;
  };
  return {reached_with(1 - tail), reached_with(tail)};
}

std::optional<std::int64_t> seeds_to_sow(std::span<const ShareNode> share, std::int64_t plants,
                                         double chance, std::int64_t most) {
  check(share, plants);
  check(share, most);
  check_chance(chance);
  return least(plants, most,
               [&](std::int64_t seeds) { return chance_of_stand(share, seeds, plants) >= chance; });
}

CellStand cell_stand(std::span<const ShareNode> share, std::int64_t cells, std::int64_t per_cell) {
  check(share, cells);
  check(share, per_cell);
  CellStand stand;
  for (const ShareNode& node : share) {
    const double filled = filled_share(node.share, per_cell);
    stand.filled += node.weight * filled;
    stand.thinned += node.weight * (static_cast<double>(per_cell) * node.share - filled);
  }
  stand.filled *= static_cast<double>(cells);
  stand.thinned *= static_cast<double>(cells);
  return stand;
}

double chance_of_filled(std::span<const ShareNode> share, std::int64_t cells, std::int64_t per_cell,
                        std::int64_t filled) {
  check(share, cells);
  check(share, per_cell);
  double chance = 0;
  for (const ShareNode& node : share)
    chance += node.weight * binomial_at_least(filled, cells, filled_share(node.share, per_cell));
  return chance;
}

std::optional<std::int64_t> seeds_per_cell(std::span<const ShareNode> share, std::int64_t cells,
                                           std::int64_t filled, double chance, std::int64_t most) {
  check(share, most);
  check_chance(chance);
  return least(1, most, [&](std::int64_t per_cell) {
    return chance_of_filled(share, cells, per_cell, filled) >= chance;
  });
}

}  // namespace plumule::stats
